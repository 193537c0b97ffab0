#include "compare/listening_staircase.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::compare {

Staircase::Staircase(const StaircaseSettings& settings) : settings_(settings), level_(settings.start) {
    assert(settings.lowest > 0.0 && settings.lowest < settings.highest);
    assert(settings.start >= settings.lowest && settings.start <= settings.highest);
    assert(settings.coarse_step > 1.0 && settings.fine_step > 1.0 && settings.down_after > 0);
    assert(settings.turns > settings.coarse_turns && settings.coarse_turns >= 0 && settings.max_trials > 0);
}

bool Staircase::finished() const {
    return turns_.size() >= static_cast<std::size_t>(settings_.turns) || trials_.size() >= settings_.max_trials;
}

void Staircase::answer(bool right) {
    assert(!finished());
    trials_.push_back({.level = level_, .right = right});
    if (!right) {
        right_in_a_row_ = 0;
        move(false);
    } else if (++right_in_a_row_ == settings_.down_after) {
        right_in_a_row_ = 0;
        move(true);
    }
}

void Staircase::move(bool harder) {
    if (going_down_ && *going_down_ != harder) {
        turns_.push_back(level_);
    }
    going_down_ = harder;
    const bool coarse = turns_.size() < static_cast<std::size_t>(settings_.coarse_turns);
    const double step = coarse ? settings_.coarse_step : settings_.fine_step;
    level_ = std::clamp(harder ? level_ / step : level_ * step, settings_.lowest, settings_.highest);
}

double Staircase::target() const {
    return std::pow(0.5, 1.0 / settings_.down_after);
}

std::optional<double> Staircase::estimate() const {
    const auto coarse = static_cast<std::size_t>(settings_.coarse_turns);
    if (turns_.size() < coarse + 2) {
        return std::nullopt;
    }
    const std::size_t counted = (turns_.size() - coarse) / 2 * 2; // as many upper turns as lower ones
    double sum = 0.0;
    for (std::size_t i = turns_.size() - counted; i < turns_.size(); ++i) {
        sum += std::log(turns_[i]);
    }
    return std::exp(sum / static_cast<double>(counted));
}

} // namespace retap::compare
