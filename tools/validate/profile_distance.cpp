#include "validate/profile_distance.hpp"

#include "dsp/base/statistics.hpp"

#include <cmath>
#include <cstddef>
#include <vector>

namespace retap::validate {

namespace {

using dsp::EnergyProfile;

constexpr double least_scatter = 0.1; // nepers; stretches that stand still

EnergyProfile middle_of(std::span<const EnergyProfile> profiles) {
    EnergyProfile middle{};
    for (std::size_t i = 0; i < dsp::profile_size; ++i) {
        std::vector<double> values;
        values.reserve(profiles.size());
        for (const EnergyProfile& profile : profiles) {
            values.push_back(profile.at(i));
        }
        middle.at(i) = dsp::median(values);
    }
    return middle;
}

// Mean square distance of a tap from the middle, of one number of the profile.
double scatter(std::span<const EnergyProfile> profiles, const EnergyProfile& middle, std::size_t number) {
    double sum = 0.0;
    for (const EnergyProfile& profile : profiles) {
        sum += std::pow(profile.at(number) - middle.at(number), 2.0);
    }
    return sum / static_cast<double>(profiles.size() - 1);
}

} // namespace

double profile_distance(std::span<const EnergyProfile> before, std::span<const EnergyProfile> after) {
    if (before.size() < 2 || after.size() < 2) {
        return 0.0;
    }
    const EnergyProfile then = middle_of(before);
    const EnergyProfile now = middle_of(after);
    double sum = 0.0;
    for (std::size_t i = 0; i < dsp::profile_size; ++i) {
        const double scattered = 0.5 * (scatter(before, then, i) + scatter(after, now, i));
        sum += std::pow(then.at(i) - now.at(i), 2.0) / (scattered + least_scatter * least_scatter);
    }
    return std::sqrt(sum / static_cast<double>(dsp::profile_size));
}

} // namespace retap::validate
