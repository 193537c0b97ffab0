#include "compare/profile_difference.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace retap::compare {
namespace {

using Profiles = std::span<const dsp::EnergyProfile>;

std::vector<double> numbers(Profiles profiles, std::size_t index) {
    std::vector<double> values;
    values.reserve(profiles.size());
    for (const dsp::EnergyProfile& profile : profiles) {
        values.push_back(profile.at(index));
    }
    return values;
}

/// Mean square distance from the middle.
double scatter(std::span<const double> values, double middle) {
    double sum = 0.0;
    for (const double value : values) {
        sum += (value - middle) * (value - middle);
    }
    return sum / static_cast<double>(values.size() - 1);
}

} // namespace

std::optional<double> profile_difference(Profiles before, Profiles after, const ProfileDifferenceSettings& settings) {
    if (before.size() < 2 || after.size() < 2) {
        return std::nullopt;
    }
    const auto counted = [&](Profiles side) { return static_cast<double>(std::min(side.size(), settings.max_taps)); };
    const double share = 1.0 / counted(before) + 1.0 / counted(after);
    double sum = 0.0;
    for (std::size_t i = 0; i < dsp::profile_size; ++i) {
        const std::vector<double> then = numbers(before, i);
        const std::vector<double> now = numbers(after, i);
        const double was = dsp::median(then);
        const double is = dsp::median(now);
        const double variance = 0.5 * (scatter(then, was) + scatter(now, is)) * share;
        sum += (is - was) * (is - was) / (variance + settings.residual * settings.residual);
    }
    return std::sqrt(sum / static_cast<double>(dsp::profile_size));
}

} // namespace retap::compare
