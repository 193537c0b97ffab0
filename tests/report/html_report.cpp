#include "report/html_report.hpp"

#include "contains.hpp"
#include "invented_takes.hpp"
#include "markup_nesting.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <set>
#include <string>
#include <string_view>
#include <vector>

using namespace retap;

using retap::test::contains;
using retap::test::nesting_fault;

namespace {

const report::ReportHeading test_heading{"Bite sound", "14 May 2031", "Retap test"};

} // namespace

TEST_CASE("The nesting check finds what it is for") {
    CHECK(nesting_fault("<!DOCTYPE html><p a=\"b\">x</p><br/>").empty());
    CHECK_FALSE(nesting_fault("<p><b>x</p></b>").empty());
    CHECK_FALSE(nesting_fault("<p>").empty());
    CHECK_FALSE(nesting_fault("<p a=\"<b>\">x</p>").empty());
}

TEST_CASE("A report is well formed and says verdict, likeness with interval, measures and cautions") {
    const auto comparison = test::invented_comparison(compare::Verdict::different);
    const std::string html = report::comparison_report(comparison, {}, test_heading);
    CHECK(nesting_fault(html) == "");
    CHECK(contains(html, comparison.sentence));
    CHECK(contains(html, ">different<"));
    CHECK(contains(html, "between 12 and 37"));
    CHECK(contains(html, "The sound builds up more slowly."));
    CHECK(contains(html, "+1.03\u00A0ms"));
    CHECK(contains(html, "Adjusting teeth cannot be undone."));
    CHECK(contains(html, "14 May 2031"));
}

TEST_CASE("Contacts are drawn where they were told apart, and only there") {
    auto comparison = test::invented_comparison(compare::Verdict::alike);
    CHECK(contains(report::comparison_report(comparison, {}, test_heading),
                   "each mark a contact that can be told apart"));
    for (dsp::TakeAnalysis* take : {&comparison.before, &comparison.after}) {
        for (dsp::Tap& tap : take->taps) {
            tap.contacts.resize(1);
        }
    }
    const std::string html = report::comparison_report(comparison, {}, test_heading);
    CHECK_FALSE(contains(html, "Contacts inside each tap"));
    CHECK_FALSE(contains(html, "plot-contacts\""));
}

TEST_CASE("A report fetches nothing: no address of another place stands in it") {
    const std::string html = report::comparison_report(test::invented_comparison(compare::Verdict::alike),
                                                       {{{"audio/wav", "RIFF"}}, {}}, test_heading);
    CHECK_FALSE(contains(html, "http:"));
    CHECK_FALSE(contains(html, "https:"));
    CHECK_FALSE(contains(html, "url("));
    CHECK_FALSE(contains(html, "@import"));
    CHECK(contains(html, "default-src &#39;none&#39;"));
    CHECK(contains(html, "src=\"data:audio/wav;base64,UklGRg==\""));
}

TEST_CASE("Hostile texts in every field stay text") {
    const std::string bad = "<script>alert('x')</script>\"'&\xFF";
    auto comparison = test::invented_comparison(compare::Verdict::unclear);
    comparison.sentence = comparison.measures[0].plain = comparison.measures[0].name = comparison.measures[0].unit =
        bad;
    comparison.reasons = {bad};
    for (dsp::TakeAnalysis* take : {&comparison.before, &comparison.after}) {
        take->file = "/tmp/" + bad;
        take->fitness.reasons = take->fitness.cautions = {bad};
    }
    const std::string html = report::comparison_report(comparison, {}, {bad, bad, bad});
    CHECK(nesting_fault(html) == "");
    CHECK_FALSE(contains(html, "<script>alert"));
    CHECK(contains(html, "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"));
}

TEST_CASE("Only as many places run script or carry style as the shell itself brings") {
    const std::string html =
        report::comparison_report(test::invented_comparison(compare::Verdict::alike), {}, test_heading);
    const auto count = [&](std::string_view what) {
        std::size_t n = 0;
        for (std::size_t at = html.find(what); at != std::string::npos; at = html.find(what, at + 1)) {
            ++n;
        }
        return n;
    };
    CHECK(count("<script") == 1);
    CHECK(count("<style") == 1);
    CHECK(count(" style=\"") == 0); // the chairside page's policy would refuse it
    CHECK(count(" onclick") == 0);
}

TEST_CASE("Takes without taps, contacts, bands or numbers still make a report that says what is missing") {
    compare::Comparison comparison;
    comparison.sentence = "Nothing to compare.";
    comparison.before = test::invented_take({.taps = 0});
    comparison.after = test::invented_take({.file = "", .taps = 1, .contacts_ms = {}});
    comparison.before.fitness.usable = false;
    comparison.likeness = compare::no_likeness;
    comparison.after.taps[0].bands_db.clear();
    comparison.after.taps[0].onset_spread_ms = std::numeric_limits<double>::quiet_NaN();
    comparison.after.taps[0].excerpt = {};
    comparison.after.fitness.snr_db = std::numeric_limits<double>::infinity();
    compare::MeasureComparison one_sided;
    one_sided.name = "left_lead";
    one_sided.unit = "ms";
    one_sided.after = {0.1, 0.0, 1};
    comparison.measures = {one_sided};
    const std::string html = report::comparison_report(comparison, {}, test_heading);
    CHECK(nesting_fault(html) == "");
    CHECK(contains(html, "No tap was heard."));
    CHECK(contains(html, "No likeness"));
    CHECK(contains(html, "not heard"));
    CHECK_FALSE(contains(html, ">nan"));
    CHECK_FALSE(contains(html, "class=\"plots\"")); // nothing to draw, so no empty frame
    CHECK(nesting_fault(report::comparison_report({}, {}, {})) == "");
}

TEST_CASE("Left-out taps and turned-down sounds keep their reasons") {
    auto take = test::invented_take({.taps = 5});
    take.taps[1].usable = false;
    take.taps[1].reasons = {dsp::Unusable::clipped};
    take.turned_down = {{0.25, dsp::NoTap::lasts}};
    const std::string html = report::take_report(take, std::nullopt, test_heading);
    CHECK(nesting_fault(html) == "");
    CHECK(contains(html, "Good take: 4 of 5\u00A0taps used."));
    CHECK(contains(html, "left out: clipped: its loudest part was cut off"));
    CHECK(contains(html, "At 0.25\u00A0s: it lasts too long for a tap"));
}

TEST_CASE("A take of a hundred taps draws a bounded number of lines") {
    const std::string few = report::take_report(test::invented_take({.taps = 12}), std::nullopt, test_heading);
    const std::string many = report::take_report(test::invented_take({.taps = 100}), std::nullopt, test_heading);
    CHECK(many.size() < few.size() + 200);
}

TEST_CASE("Before and after differ by more than colour in every plot") {
    const std::string html =
        report::comparison_report(test::invented_comparison(compare::Verdict::alike), {}, test_heading);
    CHECK(contains(html, "class=\"mark before\""));
    CHECK(contains(html, "class=\"mark after\""));
    CHECK(contains(html, "stroke-dasharray: 7 4")); // the style of .after .middle
    CHECK(contains(html, "Before above, After below"));
}
