#include "validate/known_contacts.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace {

using namespace retap::validate;
using retap::bite::ContactEvent;
using retap::bite::TapTruth;

// Contacts so many milliseconds after the first, each as fast; a few microseconds of scatter.
HeardTake take(const std::vector<double>& after_ms, double scatter_ms) {
    HeardTake heard;
    for (int n = 0; n < 8; ++n) {
        TapTruth tap{.onset_s = 1.0 + n};
        for (std::size_t i = 0; i < after_ms.size(); ++i) {
            const double wobble_ms = i > 0 ? scatter_ms * (n % 2 == 0 ? 1.0 : -1.0) : 0.0;
            tap.contacts.push_back(
                ContactEvent{.pair = i, .at_s = tap.onset_s + 1e-3 * (after_ms[i] + wobble_ms), .speed_m_per_s = 0.1});
        }
        heard.truth.push_back(std::move(tap));
    }
    return heard;
}

TEST_CASE("known times tell later contacts, and one that stands alone where there were many") {
    const HeardTake usual = take({0.0, 0.05, 0.1, 0.2}, 0.01);
    const HeardTake again = take({0.0, 0.05, 0.1, 0.2}, 0.012);
    const HeardTake late = take({0.0, 0.5, 0.6, 0.7}, 0.01);
    const HeardTake alone = take({0.0}, 0.0);
    CHECK(known_times_distance(usual, again) < 1.0);
    CHECK(known_times_distance(usual, late) > 10.0);
    CHECK(known_times_distance(usual, alone) > 10.0); // 3 contacts fewer, over sqrt(2 x .25 / 8)
    CHECK(known_times_distance(alone, usual) == known_times_distance(usual, alone));
    CHECK(known_times_distance(usual, {}) == 0.0);
}

} // namespace
