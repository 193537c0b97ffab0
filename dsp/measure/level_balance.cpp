#include "dsp/measure/level_balance.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

namespace {

double mean_square_about(std::span<const float> x, double middle) {
    double sum = 0.0;
    for (const float v : x) {
        sum += (static_cast<double>(v) - middle) * (static_cast<double>(v) - middle);
    }
    return x.empty() ? 0.0 : sum / static_cast<double>(x.size());
}

double power_over_noise(std::span<const float> excerpt, std::size_t begin, std::size_t end) {
    const std::span<const float> before = excerpt.first(begin);
    const double offset = mean(before);
    return mean_square_about(excerpt.subspan(begin, end - begin), offset) - mean_square_about(before, offset);
}

} // namespace

std::optional<double> left_excess_db(std::span<const float> left, std::span<const float> right, Position onset,
                                     SampleRate rate, const BalanceSettings& settings) {
    assert(left.size() == right.size());
    assert(onset.samples() >= 0.0 && onset.samples() < static_cast<double>(left.size()));
    const auto index = [size = static_cast<double>(left.size())](Position p) {
        return static_cast<std::size_t>(std::clamp(p.samples(), 0.0, size));
    };
    const std::size_t begin = index(onset - Length::from_ms(settings.before_ms, rate));
    const std::size_t end = index(onset + Length::from_ms(settings.after_ms, rate));
    const double power_left = power_over_noise(left, begin, end);
    const double power_right = power_over_noise(right, begin, end);
    if (!(power_left > 0.0) || !(power_right > 0.0)) {
        return std::nullopt;
    }
    return 10.0 * std::log10(power_left / power_right);
}

} // namespace retap::dsp
