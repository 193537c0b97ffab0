#include "report/staircase.hpp"

#include "contains.hpp"
#include "markup_nesting.hpp"
#include "visit/invented_visit.hpp"

#include <cmath>
#include <doctest/doctest.h>

using namespace retap;
using namespace retap::report;
using retap::test::contains;

namespace {

StairStep step(std::string title, double score, compare::Verdict verdict, double lead, bool as_before) {
    return {.title = std::move(title),
            .likeness = compare::Likeness{score, std::max(0.0, score - 5), std::min(100.0, score + 5)},
            .verdict = verdict,
            .lead_change_ms = lead,
            .lead_as_before = as_before,
            .film = {}};
}

double y_of_tread(const std::string& drawing, std::size_t which) {
    std::size_t at = 0;
    for (std::size_t i = 0; i <= which; ++i) {
        at = drawing.find("class=\"tread\"", at + 1);
    }
    return std::stod(drawing.substr(drawing.find("y1=\"", at) + 4));
}

} // namespace

TEST_CASE("A likelier look stands lower, and one that is alike stands in the band of as before") {
    std::vector<StairStep> steps = {{.title = "Before",
                                     .likeness = {},
                                     .verdict = {},
                                     .lead_change_ms = {},
                                     .lead_as_before = false,
                                     .film = HoldCount{8, 9}},
                                    step("After", 12.0, compare::Verdict::different, 1.64, false),
                                    step("After, look 2", 55.0, compare::Verdict::unclear, 0.4, false),
                                    step("After, look 3", 95.0, compare::Verdict::alike, 0.02, true)};
    steps[3].film = HoldCount{7, 9};
    const std::string drawing = staircase(steps);
    CHECK(test::nesting_fault(drawing).empty());
    CHECK(y_of_tread(drawing, 0) < y_of_tread(drawing, 1));
    CHECK(y_of_tread(drawing, 1) < y_of_tread(drawing, 2));
    const std::size_t band = drawing.find("class=\"as-before\"");
    const double top = std::stod(drawing.substr(drawing.find(" y=\"", band) + 4));
    CHECK(y_of_tread(drawing, 2) > top);
    CHECK(y_of_tread(drawing, 1) < top);
    CHECK(contains(drawing, "+1.64 ms"));
    CHECK(contains(drawing, "8 of 9"));
    CHECK(contains(drawing, "After, look 3: likeness 95, alike, first sound as before, 7 of 9 hold."));
}

TEST_CASE("The band begins at the likeness up to which the verdict may be alike") {
    // 100 / (1 + exp(limit - half)): 1.2 and 2.3 as they are set.
    CHECK(as_before_from() == doctest::Approx(100.0 / (1.0 + std::exp(1.2 - 2.3))));
    for (const double limit : {0.8, 1.2, 1.6}) {
        const compare::EvidenceSettings settings{.limit = limit};
        const compare::SummedEvidence inside{.value = limit - 0.01, .low = limit - 0.01, .high = limit - 0.01};
        const compare::SummedEvidence outside{.value = limit + 0.01, .low = limit + 0.01, .high = limit + 0.01};
        CHECK(compare::judge(inside, settings) == compare::Finding::within);
        CHECK(compare::likeness_of(inside, settings).score > as_before_from(settings));
        CHECK(compare::judge(outside, settings) != compare::Finding::within);
        CHECK(compare::likeness_of(outside, settings).score < as_before_from(settings));
    }
}

TEST_CASE("The bar of a lead never stops short of its number") {
    const auto bar = [](const std::string& drawing, std::size_t which) {
        std::size_t at = 0;
        for (std::size_t i = 0; i <= which; ++i) {
            at = drawing.find("class=\"lead-bar\"", at + 1);
        }
        return std::stod(drawing.substr(drawing.find("width=\"", at) + 7));
    };
    StairStep before;
    before.title = "Before";
    before.film = HoldCount{8, 9};
    const std::string drawing = staircase({before, step("After", 5.0, compare::Verdict::different, 6.0, false),
                                           step("After, look 2", 20.0, compare::Verdict::different, 3.0, false)});
    CHECK(bar(drawing, 0) == doctest::Approx(2.0 * bar(drawing, 1)).epsilon(0.01));
}

TEST_CASE("One look, or none that was compared, makes no staircase") {
    CHECK(staircase({}).empty());
    CHECK(staircase({step("After", 12.0, compare::Verdict::different, 1.0, false)}).empty());
    StairStep film;
    film.title = "Before";
    film.film = HoldCount{1, 2};
    CHECK(staircase({film, film}).empty());
}

TEST_CASE("The steps are the looks of a visit, with the lead of those that can be compared") {
    std::vector<visit::Entry> written{{{test::morning, {}, {}, test::filling_on_16()}, 1, "digest"}};
    const auto add = [&](visit::NewEntry entry) {
        const int number = static_cast<int>(written.size()) + 1;
        written.push_back({std::move(entry), number, "digest"});
    };
    add(test::holds(test::before, "hold 17 16 26; slide 14"));
    add({test::morning,
         test::after,
         {},
         visit::Compared{.verdict = compare::Verdict::different,
                         .likeness = {20.0, 10.0, 30.0},
                         .sentence = "Different.",
                         .before_takes = {},
                         .now_takes = {},
                         .program = "Retap"}});
    const visit::Visit visit = visit::fold(7, "uid", written);
    const auto steps = stair_steps(visit, [](const visit::Look&) {
        compare::Comparison comparison;
        comparison.measures.push_back({.name = "first_sound",
                                       .unit = "ms",
                                       .before = {},
                                       .after = {},
                                       .difference = 0.7,
                                       .finding = compare::Finding::beyond,
                                       .plain = {}});
        return std::optional(comparison);
    });
    REQUIRE(!steps.empty());
    REQUIRE(steps.front().film.has_value());
    CHECK(steps.front().film->holds == 3);
    CHECK(steps.front().film->tested == 4);
    REQUIRE(steps.size() == 2);
    CHECK(steps.back().lead_change_ms == 0.7);
}
