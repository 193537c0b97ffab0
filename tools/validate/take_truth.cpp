#include "validate/take_truth.hpp"

#include "dsp/base/statistics.hpp"

#include <cmath>
#include <optional>
#include <set>
#include <utility>
#include <vector>

namespace retap::validate {

namespace {

constexpr double early_s = 1e-3;
constexpr double never_ms = 80.0; // as long as a closing is followed at most

struct TapNumbers {
    double contacts, next_ms, spread_ms, mean_ms, peak_db;
};

TapNumbers numbers_of(const bite::TapTruth& tap) {
    std::set<std::pair<std::size_t, std::size_t>> early;
    std::set<std::size_t> pairs;
    std::optional<double> next_ms;
    double spread_ms = 0.0;
    double sum = 0.0;
    double weight = 0.0;
    for (const bite::ContactEvent& contact : tap.contacts) { // by time
        const double after_s = contact.at_s - tap.onset_s;
        if (after_s < early_s) {
            early.insert({contact.pair, contact.point});
        }
        if (pairs.insert(contact.pair).second) {
            spread_ms = 1e3 * after_s;
            next_ms = pairs.size() == 2 ? 1e3 * after_s : next_ms;
            sum += contact.impulse_n_s * 1e3 * after_s;
            weight += contact.impulse_n_s;
        }
    }
    return {.contacts = static_cast<double>(early.size()),
            .next_ms = next_ms.value_or(never_ms),
            .spread_ms = spread_ms,
            .mean_ms = weight > 0.0 ? sum / weight : 0.0,
            .peak_db = tap.peak.empty() ? -200.0 : 20.0 * std::log10(std::max(tap.peak.front(), 1e-10))};
}

} // namespace

TakeTruth take_truth(std::span<const bite::TapTruth> taps) {
    if (taps.empty()) {
        return {};
    }
    std::vector<TapNumbers> all;
    all.reserve(taps.size());
    for (const bite::TapTruth& tap : taps) {
        all.push_back(numbers_of(tap));
    }
    const auto middle = [&](double TapNumbers::*number) {
        std::vector<double> values;
        values.reserve(all.size());
        for (const TapNumbers& tap : all) {
            values.push_back(tap.*number);
        }
        return dsp::median(values);
    };
    double lone = 0.0;
    for (const TapNumbers& tap : all) {
        lone += tap.contacts == 1.0 ? 1.0 : 0.0;
    }
    return {.contacts = middle(&TapNumbers::contacts),
            .lone = lone / static_cast<double>(all.size()),
            .next_ms = middle(&TapNumbers::next_ms),
            .spread_ms = middle(&TapNumbers::spread_ms),
            .mean_ms = middle(&TapNumbers::mean_ms),
            .peak_db = middle(&TapNumbers::peak_db)};
}

} // namespace retap::validate
