#include "validate/pairs.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace {

using namespace retap::validate;
using retap::compare::Verdict;

TEST_CASE("Wilson's interval agrees with the worked example of the textbooks") {
    // 15 of 148: 0.0624 to 0.1605 (Newcombe RG 1998, Stat Med 17:857-872, table I, method 3; from memory).
    const Share s = share(15.0, 148.0);
    CHECK(s.value == doctest::Approx(0.1014).epsilon(1e-3));
    CHECK(s.low == doctest::Approx(0.0624).epsilon(2e-3));
    CHECK(s.high == doctest::Approx(0.1605).epsilon(2e-3));
    CHECK(share(0.0, 20.0).low == 0.0);
    CHECK(share(0.0, 20.0).high == doctest::Approx(0.1611).epsilon(2e-3)); // 0 of 20 in the same table
}

constexpr Family modal_family{.sound = Sound::modal};
constexpr Family strike_family{.sound = Sound::strikes};

PairResult pair(std::size_t condition, double likeness, Verdict verdict) {
    PairResult p{.family = modal_family, .condition = condition, .likeness = likeness, .verdict = verdict};
    p.distance.front() = 100.0 - likeness;
    return p;
}

TEST_CASE("Calibration weighs an even mixture, whatever was simulated") {
    // Two unchanged and five high ones: one unchanged stands for a quarter of the mixture, one high one for a tenth.
    std::vector<PairResult> pairs{pair(0, 95.0, Verdict::alike), pair(1, 85.0, Verdict::alike)};
    for (std::size_t c = 2; c < 7; ++c) {
        pairs.push_back(pair(c, c == 2 ? 95.0 : 10.0, Verdict::different));
    }
    pairs.push_back(pair(7, 95.0, Verdict::unclear)); // a low tooth is not part of the mixture
    const std::vector<Band> bands = calibration(pairs, modal_family);
    REQUIRE(bands.size() == 6);
    CHECK(bands[0].pairs == 4);
    CHECK(bands[0].unchanged == 0.0);
    CHECK(bands[4].pairs == 1);
    CHECK(bands[4].unchanged == 1.0);
    CHECK(bands[5].pairs == 2);
    CHECK(bands[5].unchanged == doctest::Approx(0.25 / (0.25 + 0.1)));
    CHECK(bands[1].pairs == 0);
}

TEST_CASE("Areas and verdicts are counted per family and condition") {
    std::vector<PairResult> pairs{pair(0, 90.0, Verdict::alike), pair(1, 80.0, Verdict::unclear),
                                  pair(4, 85.0, Verdict::different), pair(4, 10.0, Verdict::different)};
    // 50 um against unchanged: of the four couples (90, 85) (90, 10) (80, 85) (80, 10), one is in the wrong order.
    CHECK(area(pairs, modal_family, "50", 0).value == doctest::Approx(0.75));
    CHECK(area(pairs, strike_family, "50", 0).value == 0.5);
    CHECK(verdict_share(pairs, modal_family, "unchanged", Verdict::alike).value == 0.5);
    CHECK(verdict_share(pairs, modal_family, "50", Verdict::different).value == 1.0);
    CHECK(verdict_share(pairs, strike_family, "50", Verdict::different).of == 0.0);
}

} // namespace
