#include "lesson/result_text.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::lesson;

TEST_CASE("same or different counts hits and false alarms apart") {
    PairsResult result;
    for (const bool different : {true, true, false, false, false}) {
        count_answer(result.learner, different, different);
    }
    count_answer(result.learner, false, true);
    CHECK(result.learner.different == 2);
    CHECK(result.learner.different_called == 2);
    CHECK(result.learner.same == 4);
    CHECK(result.learner.same_called_different == 1);
    CHECK(kept(result).right == 5);
    CHECK(kept(result).trials == 6);
    // No mistakes: only the lower bound means something.
    PairsResult perfect;
    perfect.sensitivity = compare::Sensitivity{.value = 8.0, .low = 1.5, .high = std::nullopt};
    CHECK_FALSE(kept(perfect).value.has_value());
    CHECK(pairs_text(perfect, 100.0, 50.0).find("d' of 1.50 or more") != std::string::npos);
}

TEST_CASE("a threshold is never beyond what was played") {
    const std::vector<compare::StaircaseTrial> trials = {{.level = 200.0, .right = false},
                                                         {.level = 100.0, .right = true}};
    const compare::Threshold beyond{.value = 640.0, .low = 150.0, .high = 9000.0};
    const compare::Threshold told = as_far_as_played(beyond, trials);
    CHECK_FALSE(told.value.has_value());
    CHECK(told.low == 150.0);
    CHECK_FALSE(told.high.has_value());
    CHECK(as_far_as_played({.value = 120.0, .low = 100.0, .high = 200.0}, trials).value == 120.0);
    CHECK_FALSE(as_far_as_played({.value = 40.0, .low = {}, .high = {}}, trials).value.has_value());

    compare::Staircase stairs({});
    while (!stairs.finished()) {
        stairs.answer(false); // never heard: it stays at the highest, 200 um
    }
    const OddOneResult deaf{.stairs = stairs, .threshold = beyond};
    CHECK(odd_one_text(deaf, 50.0).find("not below 200\u00A0\u00B5m: no threshold found") != std::string::npos);
    CHECK(odd_one_text(deaf, 50.0).find("640") == std::string::npos);
    CHECK_FALSE(kept(deaf).value.has_value());
    CHECK(
        odd_one_json(OddOneResult{.stairs = compare::Staircase({}), .threshold = beyond}, 50.0)["threshold"]["value_um"]
            .is_null());
}
