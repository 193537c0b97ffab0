#include "dsp/measure/level_balance.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

namespace {

double power_over_noise(std::span<const float> excerpt, Position onset, SampleRate rate,
                        const BalanceSettings& settings) {
    const std::span<const float> quiet = quiet_before(excerpt, onset, Length::from_ms(settings.before_ms, rate));
    const double until = (onset + Length::from_ms(settings.after_ms, rate)).samples();
    const auto end = static_cast<std::size_t>(std::min(until, static_cast<double>(excerpt.size())));
    const double offset = mean(quiet);
    return mean_square(excerpt.first(end).subspan(quiet.size()), offset) - mean_square(quiet, offset);
}

} // namespace

std::optional<double> left_excess_db(std::span<const float> left, std::span<const float> right, Position onset,
                                     SampleRate rate, const BalanceSettings& settings) {
    assert(left.size() == right.size());
    assert(onset.samples() >= 0.0 && onset.samples() < static_cast<double>(left.size()));
    const double power_left = power_over_noise(left, onset, rate, settings);
    const double power_right = power_over_noise(right, onset, rate, settings);
    if (!(power_left > 0.0) || !(power_right > 0.0)) {
        return std::nullopt;
    }
    return 10.0 * std::log10(power_left / power_right);
}

} // namespace retap::dsp
