#include "report/lesson_bench_section.hpp"

#include "invented_takes.hpp"
#include "markup_nesting.hpp"

#include <doctest/doctest.h>
#include <string>

using namespace retap;

namespace {

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

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
    CHECK(has(html, "16 &lt;high&gt; by 100"));
    CHECK(has(html, "Height over speed."));
    CHECK(has(html, "this bite, truth"));
    CHECK(has(html, "this bite, heard"));
    CHECK(has(html, "2.52\u00A0ms"));
    CHECK(has(html, "<td>6 of 8</td>"));
    CHECK(has(html, "<th scope=\"row\">26</th>"));
    CHECK(test::nesting_fault(html) == "");
}

TEST_CASE("teeth are numbered as the reader numbers them") {
    // ISO 26 is 14 in the Universal system (from memory).
    const std::string html = section(high, test::invented_take({}), chart::Numbering::universal);
    CHECK(has(html, "<th scope=\"row\">14</th>"));
    CHECK_FALSE(has(html, "<th scope=\"row\">26</th>"));
}

TEST_CASE("where nothing was heard the bench says so and shows the truth all the same") {
    const std::string html = section(high, test::invented_take({.taps = 0}));
    CHECK(has(html, "The contacts were not told apart."));
    CHECK(has(html, "Retap would say: "));
    CHECK(has(html, "0\u00A0taps heard of 8"));
    CHECK(has(html, ">nothing<"));
    CHECK(has(html, "2.52\u00A0ms"));
    CHECK(test::nesting_fault(html) == "");
}
