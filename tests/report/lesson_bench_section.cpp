#include "report/lesson_bench_section.hpp"

#include "contains.hpp"
#include "invented_takes.hpp"
#include "markup_nesting.hpp"

#include <doctest/doctest.h>
#include <string>

using namespace retap;
using retap::test::contains;

namespace {

std::string section(const bite::TruthSummary& truth, const dsp::TakeAnalysis& heard,
                    chart::Numbering numbering = chart::Numbering::iso) {
    const bite::TruthSummary even{.pairs = {{.pair = 1, .taps = 8, .after_ms = 0.0, .speed_mm_s = 50.0}},
                                  .spread_ms = 0.1};
    const dsp::TakeAnalysis balanced = test::invented_take({});
    return report::lesson_bench_section({.bite = "16 <high> by 100",
                                         .physics = "Height over speed.",
                                         .taps = 8,
                                         .numbering = numbering,
                                         .balanced = {even, balanced},
                                         .made = {truth, heard}});
}

const bite::TruthSummary high{
    .pairs = {{.pair = *bite::pair_of_tooth(16), .taps = 8, .after_ms = 0.0, .speed_mm_s = 49.0},
              {.pair = *bite::pair_of_tooth(26), .taps = 6, .after_ms = 2.09, .speed_mm_s = 45.0}},
    .spread_ms = 2.52};

} // namespace

TEST_CASE("truth and what was heard stand beside each other, and words from outside stay words") {
    const std::string html = section(high, test::invented_take({}));
    CHECK(contains(html, "16 &lt;high&gt; by 100"));
    CHECK(contains(html, "Height over speed."));
    CHECK(contains(html, "this bite, truth"));
    CHECK(contains(html, "this bite, heard"));
    CHECK(contains(html, "2.52\u00A0ms"));
    CHECK(contains(html, "<td>6 of 8</td>"));
    CHECK(contains(html, "<th scope=\"row\">26</th>"));
    CHECK(test::nesting_fault(html) == "");
}

TEST_CASE("teeth are numbered as the reader numbers them") {
    // ISO 26 is 14 in the Universal system (from memory).
    const std::string html = section(high, test::invented_take({}), chart::Numbering::universal);
    CHECK(contains(html, "<th scope=\"row\">14</th>"));
    CHECK_FALSE(contains(html, "<th scope=\"row\">26</th>"));
}

TEST_CASE("where nothing was heard the bench says so and shows the truth all the same") {
    const std::string html = section(high, test::invented_take({.taps = 0}));
    CHECK(contains(html, "The contacts were not told apart."));
    CHECK(contains(html, "Retap would say: "));
    CHECK(contains(html, "0\u00A0taps heard of 8"));
    CHECK(contains(html, ">nothing<"));
    CHECK(contains(html, "2.52\u00A0ms"));
    CHECK(test::nesting_fault(html) == "");
}
