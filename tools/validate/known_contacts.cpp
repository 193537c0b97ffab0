#include "validate/known_contacts.hpp"

#include "compare/statistics.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>
#include <vector>

namespace retap::validate {

namespace {

constexpr std::size_t fewest_meetings = 4;
constexpr double early_s = 1e-3;

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
                sum += contact.speed_m_per_s * 1e3 * (contact.at_s - tap.onset_s);
                weight += contact.speed_m_per_s;
            }
        }
        if (weight > 0.0) {
            leads.push_back(sum / weight);
        }
    }
    return leads;
}

// Contacts within the first millisecond of each tap.
std::vector<double> counts_of(const HeardTake& take) {
    std::vector<double> counts;
    for (const bite::TapTruth& tap : take.truth) {
        std::set<std::pair<std::size_t, std::size_t>> early;
        for (const bite::ContactEvent& contact : tap.contacts) {
            if (contact.at_s - tap.onset_s < early_s) {
                early.insert({contact.pair, contact.point});
            }
        }
        counts.push_back(static_cast<double>(early.size()));
    }
    return counts;
}

// As if each count could be off by half: one that does not vary over eight taps is not known without error.
double welch_of_counts(const std::vector<double>& before, const std::vector<double>& after) {
    const auto between = compare::mean_difference(compare::moments(before), compare::moments(after));
    const double half = 0.25 / static_cast<double>(before.size()) + 0.25 / static_cast<double>(after.size());
    return std::abs(between.difference) / std::sqrt(between.standard_error * between.standard_error + half);
}

double welch(const std::vector<double>& before, const std::vector<double>& after) {
    return std::abs(compare::mean_difference(compare::moments(before), compare::moments(after)).t());
}

} // namespace

double known_times_distance(const HeardTake& before, const HeardTake& after) {
    const std::vector<double> then = leads_of(before);
    const std::vector<double> now = leads_of(after);
    if (then.size() < 2 || now.size() < 2) {
        return 0.0;
    }
    return std::max(welch(then, now), welch_of_counts(counts_of(before), counts_of(after)));
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
