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
