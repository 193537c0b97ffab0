#include "chart/step.hpp"
#include "chart/next_rules.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

using namespace retap::chart;

TEST_CASE("every step has a word of its own that reads back") {
    std::set<std::string_view> words;
    for (int i = 0; i <= static_cast<int>(Step::sign); ++i) {
        const auto step = static_cast<Step>(i);
        CHECK(words.insert(word(step)).second);
        CHECK(step_from(word(step)) == step);
    }
    CHECK_FALSE(step_from("tap_dance"));
}

TEST_CASE("what is done with the hands has its reason and its source, and nothing in it takes tooth away") {
    for (const Step step : steps_with_how_to()) {
        CHECK_FALSE(how_to(step).empty());
        for (const HowTo& one : how_to(step)) {
            CAPTURE(std::string(one.text));
            CHECK(one.text.back() == '.');
            CHECK(one.why.back() == '.');
            CHECK(one.source.size() > 5);
            for (const char* taboo : {"emove", "rind", "educe", "rill"}) {
                CHECK(one.text.find(taboo) == std::string_view::npos);
            }
        }
    }
}

namespace {

bool tells(Step step, const char* words) {
    for (const HowTo& one : how_to(step)) {
        if (one.text.find(words) != std::string_view::npos) {
            return true;
        }
    }
    return false;
}

} // namespace

TEST_CASE("the steps around the marks stand where they are needed") {
    CHECK(tells(Step::chart_centric, "Dry the teeth"));
    CHECK(tells(Step::chart_centric, "thin paper"));
    CHECK(tells(Step::chart_centric, "grease"));
    CHECK(tells(Step::chart_holds, "it holds when the pull is resisted"));
    CHECK(tells(Step::mark_eccentric, "another colour"));
    CHECK(tells(Step::mark_eccentric, "centric again"));
    CHECK(tells(Step::mark_eccentric, "talk to your supervisor before any"));
    CHECK(tells(Step::mark_eccentric, "the treated tooth by itself, then at the other teeth"));
    CHECK(tells(Step::record, "hurts, is loose, carries a fresh implant or unset cement"));
}
