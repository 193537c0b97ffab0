#include "validate/known_contacts.hpp"

#include "compare/statistics.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

namespace retap::validate {

namespace {

constexpr std::size_t fewest_meetings = 4;

// Milliseconds after the tap's first contact; of each pair, one value for each tap in which it met.
using PairTimes = std::array<std::vector<double>, bite::pair_count>;

PairTimes times_of(const HeardTake& take) {
    PairTimes times;
    for (const bite::TapTruth& tap : take.truth) {
        std::array<bool, bite::pair_count> seen{};
        for (const bite::ContactEvent& contact : tap.contacts) { // by time
            if (!std::exchange(seen.at(contact.pair), true)) {
                times.at(contact.pair).push_back(1e3 * (contact.at_s - tap.onset_s));
            }
        }
    }
    return times;
}

std::vector<double> leads_of(const HeardTake& take) {
    std::vector<double> leads;
    for (const bite::TapTruth& tap : take.truth) {
        std::array<bool, bite::pair_count> seen{};
        double sum = 0.0;
        double weight = 0.0;
        for (const bite::ContactEvent& contact : tap.contacts) {
            if (!std::exchange(seen.at(contact.pair), true)) {
                sum += contact.impulse_n_s * 1e3 * (contact.at_s - tap.onset_s);
                weight += contact.impulse_n_s;
            }
        }
        if (weight > 0.0) {
            leads.push_back(sum / weight);
        }
    }
    return leads;
}

double welch(const std::vector<double>& before, const std::vector<double>& after) {
    return std::abs(compare::mean_difference(compare::moments(before), compare::moments(after)).t());
}

} // namespace

double known_times_distance(const HeardTake& before, const HeardTake& after) {
    const std::vector<double> then = leads_of(before);
    const std::vector<double> now = leads_of(after);
    return then.size() < 2 || now.size() < 2 ? 0.0 : welch(then, now);
}

double known_teeth_distance(const HeardTake& before, const HeardTake& after) {
    const PairTimes then = times_of(before);
    const PairTimes now = times_of(after);
    double largest = 0.0;
    for (std::size_t pair = 0; pair < bite::pair_count; ++pair) {
        if (then.at(pair).size() >= fewest_meetings && now.at(pair).size() >= fewest_meetings) {
            largest = std::max(largest, welch(then.at(pair), now.at(pair)));
        }
    }
    return largest;
}

} // namespace retap::validate
