#include "validate/onset_bias.hpp"

#include <doctest/doctest.h>

namespace {

using namespace retap::validate;

TEST_CASE("the bias of a take is the middle error of its usable taps that belong to true ones") {
    HeardTake take;
    for (const double at_s : {1.0, 1.5, 2.0, 2.5}) {
        take.truth.push_back({.onset_s = at_s - 0.0003, .arrival_s = {at_s}});
    }
    for (const double at_s : {1.00001, 1.50003, 2.00002, 2.503, 3.2}) {
        take.heard.taps.emplace_back();
        take.heard.taps.back().onset_s = at_s;
    }
    take.heard.taps[3].usable = false;
    CHECK(onset_bias_ms(take).value() == doctest::Approx(0.02)); // of 0.01, 0.03 and 0.02 ms
    take.heard.taps.clear();
    CHECK(!onset_bias_ms(take));
}

} // namespace
