#include "validate/known_contacts.hpp"

#include "dsp/robust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace retap::validate {

namespace {

// Per pair, one value for each tap in which it met.
using PairTimes = std::array<std::vector<double>, bite::pair_count>;

PairTimes times_of(const HeardTake& take) {
    PairTimes times;
    for (const bite::TapTruth& tap : take.truth) {
        std::array<double, bite::pair_count> first{};
        first.fill(-1.0);
        std::vector<double> all;
        for (const bite::ContactEvent& contact : tap.contacts) {
            if (first.at(contact.pair) < 0.0) {
                first.at(contact.pair) = contact.at_s;
                all.push_back(contact.at_s);
            }
        }
        if (all.empty()) {
            continue;
        }
        const double middle = dsp::median(all);
        for (std::size_t pair = 0; pair < bite::pair_count; ++pair) {
            if (first.at(pair) >= 0.0) {
                times.at(pair).push_back(1e3 * (first.at(pair) - middle));
            }
        }
    }
    return times;
}

} // namespace

double known_contacts_distance(const HeardTake& before, const HeardTake& after) {
    const PairTimes then = times_of(before);
    const PairTimes now = times_of(after);
    double largest = 0.0;
    for (std::size_t pair = 0; pair < bite::pair_count; ++pair) {
        if (then.at(pair).size() >= 2 && now.at(pair).size() >= 2) {
            largest = std::max(largest, std::abs(dsp::median(now.at(pair)) - dsp::median(then.at(pair))));
        }
    }
    return largest;
}

} // namespace retap::validate
