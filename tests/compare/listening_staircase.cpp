#include "compare/listening_staircase.hpp"

#include "compare/listening_threshold.hpp"

#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <vector>

using namespace retap::compare;

TEST_CASE("two right answers in a row make it harder, a wrong one easier, and turns are noted where it turned") {
    Staircase stairs({.start = 100.0, .coarse_step = 2.0, .fine_step = 1.25, .coarse_turns = 1, .turns = 3});
    const std::vector<bool> answers{true, true, true, true, false, true, true, true, false};
    // By hand: 100 100 50 50 25(wrong: first turn at 25, fine from here) 31.25 31.25 (turn at 31.25) 25 25(wrong: end)
    const std::vector<double> levels{100.0, 100.0, 50.0, 50.0, 25.0, 31.25, 31.25, 25.0, 25.0};
    for (std::size_t i = 0; i < answers.size(); ++i) {
        REQUIRE_FALSE(stairs.finished());
        CHECK(stairs.level() == doctest::Approx(levels[i]));
        stairs.answer(answers[i]);
    }
    CHECK(stairs.finished());
    REQUIRE(stairs.turns().size() == 3);
    CHECK(stairs.turns()[0] == doctest::Approx(25.0));
    CHECK(stairs.turns()[1] == doctest::Approx(31.25));
    CHECK(stairs.turns()[2] == doctest::Approx(25.0));
    CHECK(stairs.estimate().value() == doctest::Approx(std::sqrt(31.25 * 25.0)));
}

TEST_CASE("the levels a rule settles at are those of Levitt 1971, table I") {
    // Two in a row: 0.707; three: 0.794 (J Acoust Soc Am 49:467, from memory; they are also the roots of p^n = 1/2).
    CHECK(Staircase({.down_after = 2}).target() == doctest::Approx(0.707).epsilon(0.0005));
    CHECK(Staircase({.down_after = 3}).target() == doctest::Approx(0.794).epsilon(0.0005));
}

TEST_CASE("a listener who hears nothing stays at the top and has no threshold, and the test still ends") {
    Staircase stairs({.max_trials = 12});
    while (!stairs.finished()) {
        stairs.answer(false);
    }
    CHECK(stairs.level() == 200.0);
    CHECK(stairs.trials().size() == 12);
    CHECK_FALSE(stairs.estimate().has_value());
}

TEST_CASE("the staircase finds the threshold of made listeners of known threshold") {
    for (const int down_after : {2, 3}) {
        for (const double truth : {12.0, 40.0, 90.0}) {
            ThresholdModel model;
            model.target = std::pow(0.5, 1.0 / down_after);
            std::mt19937_64 engine(4711);
            std::uniform_real_distribution<double> uniform;
            double by_turns = 0.0;
            double by_fit = 0.0;
            int covered = 0;
            constexpr int runs = 150;
            for (int run = 0; run < runs; ++run) {
                Staircase stairs({.start = 200.0,
                                  .lowest = 2.0,
                                  .highest = 200.0,
                                  .down_after = down_after,
                                  .turns = 10,
                                  .max_trials = 80});
                while (!stairs.finished()) {
                    stairs.answer(uniform(engine) < chance_right(stairs.level(), truth, 2.0, model));
                }
                REQUIRE(stairs.estimate().has_value());
                by_turns += std::log(*stairs.estimate() / truth) / runs;
                const Threshold fit = fit_threshold(stairs.trials(), model);
                by_fit += std::log(fit.value.value_or(truth) / truth) / runs;
                covered += fit.low.value_or(0.0) <= truth && truth <= fit.high.value_or(1e9) ? 1 : 0;
            }
            CAPTURE(down_after);
            CAPTURE(truth);
            // Less than one fine step, a factor of 1.41, off on average; the fit within half a step.
            CHECK(std::abs(by_turns) < std::log(1.414));
            CHECK(std::abs(by_fit) < 0.5 * std::log(1.414));
            // 95 in 100 should hold the truth; four standard errors below that for so many runs is 0.88.
            CHECK(covered >= 0.88 * runs);
        }
    }
}
