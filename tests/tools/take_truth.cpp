#include "validate/take_truth.hpp"

#include <doctest/doctest.h>

namespace {

using retap::bite::ContactEvent;
using retap::bite::TapTruth;
using retap::validate::take_truth;
using retap::validate::TakeTruth;

ContactEvent contact(std::size_t pair, std::size_t point, double at_s) {
    return {.pair = pair, .point = point, .at_s = at_s, .impulse_n_s = 1.0};
}

TEST_CASE("the truth of a take is that of its middle tap, worked by hand") {
    // Pair 3 at two points and pair 4 within the first millisecond, pair 3 again, pair 5 at 2.4 ms.
    const TapTruth full{.onset_s = 1.0,
                        .peak = {0.1},
                        .contacts = {contact(3, 0, 1.0), contact(3, 1, 1.0002), contact(4, 0, 1.0006),
                                     contact(3, 0, 1.0009), contact(5, 0, 1.0024)}};
    const TapTruth lone{.onset_s = 2.0, .peak = {0.01}, .contacts = {contact(3, 0, 2.0)}};
    const TakeTruth one = take_truth(std::vector{full});
    CHECK(one.contacts == 3.0);
    CHECK(one.lone == 0.0);
    CHECK(one.next_ms == doctest::Approx(0.6));
    CHECK(one.spread_ms == doctest::Approx(2.4));
    CHECK(one.mean_ms == doctest::Approx(1.0)); // 0, 0.6 and 2.4 of equal impulses
    CHECK(one.peak_db == doctest::Approx(-20.0));
    const TakeTruth three = take_truth(std::vector{lone, full, lone});
    CHECK(three.contacts == 1.0);
    CHECK(three.lone == doctest::Approx(2.0 / 3.0));
    CHECK(three.next_ms == 80.0);
    CHECK(three.peak_db == doctest::Approx(-40.0));
    CHECK(take_truth({}).contacts == 0.0);
}

} // namespace
