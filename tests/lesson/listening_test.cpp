#include "lesson/listening_test.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::lesson;

namespace {

const TrialSettings short_trials{.taps = 3};

/// Answers as a listener who is always right from this height on and picks the wrong one below.
OddOneResult heard_from(double height_um, std::uint64_t seed) {
    OddOneTest test(short_trials, 2, seed);
    while (!test.finished()) {
        const Trial& trial = test.trial();
        const std::size_t odd = trial.odd.value();
        test.answer(trial.height_um >= height_um ? odd : (odd + 1) % 3);
    }
    return test.result();
}

} // namespace

TEST_CASE("a listener with a sharp limit ends near it, with an answer of Retap to every trial") {
    const OddOneResult result = heard_from(60.0, 4);
    REQUIRE(result.threshold.value.has_value());
    // Steps are a factor of 1.414 at the end: the limit is known to about one of them.
    CHECK(*result.threshold.value > 60.0 / 1.5);
    CHECK(*result.threshold.value < 60.0 * 1.5);
    CHECK(result.retap.size() == result.stairs.trials().size());
    CHECK(result.stairs.finished());
}

TEST_CASE("same or different counts every answer, and half of the pairs are the same") {
    PairsTest test(short_trials, 200.0, 6, 2);
    std::size_t asked = 0;
    while (!test.finished()) {
        CHECK(test.number() == asked++);
        CHECK(test.trial().sounds.size() == 2);
        test.answer(test.trial().odd.has_value());
    }
    const PairsResult result = test.result();
    CHECK(asked == 6);
    CHECK(result.learner.different == 3);
    CHECK(result.learner.different_called == 3);
    CHECK(result.learner.same == 3);
    CHECK(result.learner.same_called_different == 0);
    CHECK(result.retap.different + result.retap.same == 6);
}
