#include "report/visit_report.hpp"

#include "contains.hpp"
#include "invented_takes.hpp"
#include "markup_nesting.hpp"
#include "report/tooth_chart.hpp"
#include "visit/invented_visit.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace retap;
using namespace retap::visit;
using retap::test::contains;
using test::after;
using test::before;

namespace {

const report::ReportHeading heading{"Visit C-1042", "14 May 2031", "Retap test"};

Visit visit_of(const std::vector<NewEntry>& entries, const Opened& opened = test::filling_on_16()) {
    std::vector<Entry> written{{{test::morning, {}, {}, opened}, 1, "digest-1"}};
    for (const NewEntry& entry : entries) {
        const int number = static_cast<int>(written.size()) + 1;
        written.push_back({entry, number, "digest-" + std::to_string(number)});
    }
    return fold(7, "uid", written);
}

std::vector<NewEntry> story() {
    return {test::holds(before, "hold 17 16 26; slide 14; open 11"),
            test::marks(before, "16 CF 17 MP 26 MP"),
            test::holds(after, "hold 17 16; open 26; slide 14; hold 11"),
            test::marks(after, "centric 16 CF+* 17 MP; working 16 MB/in; non-working 47 DB/in-; protrusive 14 B/dis"),
            test::feel(after, true, chart::Feel::high, "a bit high"),
            {test::at(5), after, {}, Decided{Action::adjust, "a touch"}}};
}

std::size_t count(const std::string& text, std::string_view part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
        ++n;
    }
    return n;
}

report::ToothChart chart_of(const char* holds, const char* marks) {
    report::ToothChart chart;
    chart.title = "after";
    chart.treated = chart::read_teeth("16", chart::Numbering::iso);
    if (holds != nullptr) {
        chart.charts.holds = chart::read_holds(holds, chart::Numbering::iso);
    }
    if (marks != nullptr) {
        chart.charts.marks = chart::read_marks(marks, chart::Numbering::iso);
    }
    return chart;
}

} // namespace

TEST_CASE("a visit's report is well formed and tells looks, changes, decision, next step and state") {
    const std::string page = report::visit_report(visit_of(story()), {}, heading);
    CHECK(test::nesting_fault(page) == "");
    for (const char* part :
         {"A hold was lost at 26/36.", "A hold was gained at 11/41.", "a bit high", "adjust: a touch",
          "restoration is high", "open, not signed", "the report is a draft", "slide", "open (lost)", "hold (gained)",
          "heavy, on restoration", "Adjusting teeth cannot be undone."}) {
        CAPTURE(part);
        CHECK(contains(page, part));
    }
}

TEST_CASE("a signed visit shows signer, role, time, comment and digest") {
    auto entries = story();
    entries.push_back(test::signature());
    const std::string page = report::visit_report(visit_of(entries), {}, heading);
    CHECK(contains(page, "Signed by B. Teacher, supervising dentist, 2031-05-14 10:00 UTC"));
    CHECK(contains(page, "Seen and agreed."));
    CHECK(contains(page, "<code>digest-8</code>"));
    CHECK_FALSE(contains(page, "draft"));
}

TEST_CASE("a report stays whole with nothing charted, with a baseline only, and without one") {
    for (const auto& entries :
         {std::vector<NewEntry>{}, {test::holds(before, "hold 16")}, {test::marks(after, "none")}}) {
        const std::string page = report::visit_report(visit_of(entries), {}, heading);
        CHECK(test::nesting_fault(page) == "");
        CHECK(contains(page, "What is usually next"));
    }
}

TEST_CASE("hostile texts in every field of a visit stay text") {
    const std::string bad = "<script>alert('x')</script>\"'&";
    Opened opened = test::filling_on_16();
    opened.label = opened.procedure = opened.worker = opened.supervisor = bad;
    const std::vector<NewEntry> entries = {
        {{"2031-05-14T08:30:00Z", bad}, before, {}, HoldsCharted{chart::read_holds("hold 16", chart::Numbering::iso)}},
        test::feel(after, true, chart::Feel::other, bad),
        {test::at(1), after, {}, Decided{Action::other, bad}},
        {test::at(2), {}, {}, Decided{Action::other, bad}},
        {{"2031-05-14T10:00:00Z", bad}, {}, {}, Signed{bad, bad}}};
    const std::string page = report::visit_report(visit_of(entries, opened), {}, {bad, bad, bad});
    CHECK(test::nesting_fault(page) == "");
    CHECK_FALSE(contains(page, "<script>alert"));
    CHECK(count(page, "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;") >= 10);
}

TEST_CASE("each look can be heard, and the latest comparison is shown with its plots") {
    auto entries = story();
    for (const LookName look : {before, after, test::after2}) {
        entries.push_back({test::morning, look, {}, test::take_named("x.wav")});
    }
    const report::Sound sound{"audio/flac", "fLaC"};
    const std::vector<report::LookSound> sounds = {
        {before, sound, {}},
        {after, sound, test::invented_comparison(compare::Verdict::different)},
        {test::after2, sound, test::invented_comparison(compare::Verdict::alike)}};
    const std::string page = report::visit_report(visit_of(entries), sounds, heading);
    CHECK(test::nesting_fault(page) == "");
    CHECK(count(page, "<audio") == 3);
    CHECK(count(page, "src=\"data:audio/flac;base64,ZkxhQw==\"") == 3);
    CHECK(contains(page, "Sound: After, look 2 against before"));
    CHECK(count(page, "data-side=\"before\"") == 1); // one of each side to play in turn
    CHECK(count(page, "data-side=\"after\"") == 1);
    CHECK(contains(page, "plot-taps"));
    CHECK_FALSE(contains(page, "http:"));
    CHECK_FALSE(contains(page, "https:"));
}

TEST_CASE("a tooth chart contains 32 teeth, numbered as the clinic does, and the treated one outlined twice") {
    report::ToothChart chart = chart_of(nullptr, nullptr);
    const std::string iso = report::tooth_chart(chart);
    CHECK(count(iso, "class=\"tooth\"") == 32);
    CHECK(count(iso, "class=\"treated\"") == 1);
    CHECK(contains(iso, ">48<"));
    chart.numbering = chart::Numbering::universal;
    const std::string universal = report::tooth_chart(chart);
    CHECK(contains(universal, ">32<"));
    CHECK_FALSE(contains(universal, ">48<"));
}

TEST_CASE("film and marks are told apart by the shape that is drawn, not by its colour") {
    const std::string drawn = report::tooth_chart(
        chart_of("hold 17 16; slide 14; open 26",
                 "centric 16 CF* 26 MP+; working 16 MB/in; non-working 47 DB/in; protrusive 36 MB/mes"));
    CHECK(count(drawn, "<line class=\"film-hold\"") == 2);
    CHECK(count(drawn, "<line class=\"film-slide\"") == 1);
    CHECK(count(drawn, "<line class=\"film-open\"") == 2); // two stubs that do not meet
    CHECK(count(drawn, "<circle class=\"mark-centric\"") == 2);
    CHECK(count(drawn, "<path class=\"mark-eccentric\"") == 3);
    CHECK(count(drawn, "<circle class=\"on-restoration\"") == 1);
    CHECK_FALSE(contains(drawn, "fill=\""));
    CHECK_FALSE(contains(drawn, "style="));
}

TEST_CASE("the baseline lies behind film and marks as an outline, and what cannot be tested is a cross") {
    report::ToothChart chart = chart_of("hold 17; open 26; untestable 18", "16 CF+");
    CHECK(count(report::tooth_chart(chart), "class=\"was\"") == 0);
    CHECK(count(report::tooth_chart(chart), "class=\"film-none\"") == 2);
    chart.baseline = chart::LookCharts{chart::read_holds("hold 17; slide 14; open 26", chart::Numbering::iso),
                                       chart::read_marks("centric 16 CF; working 17 MB/in", chart::Numbering::iso)};
    const std::string drawn = report::tooth_chart(chart);
    CHECK(count(drawn, "<rect class=\"was\"") == 1 + 3 + 2); // a hold, a slide, an open one
    CHECK(count(drawn, "<circle class=\"was\"") == 1);
    CHECK(count(drawn, "<path class=\"was\"") == 1);
    CHECK(contains(report::tooth_chart_key(true), "outline: before the work"));
    CHECK_FALSE(contains(report::tooth_chart_key(), "outline: before the work"));
}

TEST_CASE("a reader of the text gets the charts in words") {
    const std::string drawn = report::tooth_chart(chart_of("hold 17; open 26", "16 CF+"));
    CHECK(contains(drawn, "Film: hold 17; open 26. Marks: centric 16 CF+."));
    CHECK(contains(report::tooth_chart(chart_of(nullptr, nullptr)), "Film not charted. Marks not charted."));
}

TEST_CASE("lost and gained holds carry a sign of their own") {
    report::ToothChart chart = chart_of("hold 17 11; open 26", nullptr);
    const chart::LookCharts was{chart::read_holds("hold 17 26; open 11", chart::Numbering::iso), {}};
    const chart::Changes changes = chart::what_changed(was, chart.charts, chart.treated);
    chart.changes = &changes;
    const std::string drawn = report::tooth_chart(chart);
    CHECK(count(drawn, ">\u2212<") == 1);
    CHECK(count(drawn, ">+<") == 1);
}

TEST_CASE("marks lie where they are: mesial toward the middle line, cheek outward") {
    // x of the only mark in the drawing
    const auto place = [](const char* marks, const char* axis) {
        const std::string drawn = report::tooth_chart(chart_of(nullptr, marks));
        const std::size_t at = drawn.find("<circle class=\"mark-centric\"");
        REQUIRE(at != std::string::npos);
        const std::size_t value = drawn.find(std::string(axis) + "=\"", at) + std::string(axis).size() + 2;
        return std::stod(drawn.substr(value));
    };
    CHECK(place("16 MB", "cx") > place("16 DB", "cx")); // the patient's right is drawn on the left
    CHECK(place("26 MB", "cx") < place("26 DB", "cx"));
    CHECK(place("16 MB", "cy") < place("16 MP", "cy")); // upper row: cheek above
    CHECK(place("46 MB", "cy") > place("46 ML", "cy")); // lower row: cheek below
    CHECK(place("16 MB/in", "cy") > place("16 MB", "cy"));
    CHECK(place("46 MB/out", "cy") > place("46 MB", "cy"));
    CHECK(place("16 MB/mes", "cx") > place("16 MB/dis", "cx"));
}

TEST_CASE("the report plays a take of each look and compares each that can be, not one that contains no take") {
    const LookName recheck{LookKind::recheck, 1};
    const LookName after2{LookKind::after, 2};
    const auto take = [](const LookName& look, const char* name) {
        return NewEntry{test::morning, look, {}, test::take_named(name)};
    };
    const Visit visit =
        visit_of({take(before, "b"), take(after, "a"), take(after2, "a2"), test::holds(recheck, "hold 17")});
    std::vector<std::string> compared;
    const auto sounds = report::look_sounds(
        visit, {.flac = [](const Look& look) { return std::vector<std::byte>(look.takes.size(), std::byte{'x'}); },
                .comparison =
                    [&](const Look& look) {
                        compared.push_back(text(look.name));
                        return compare::Comparison{};
                    }});
    REQUIRE(sounds.size() == 4);
    CHECK(compared == std::vector<std::string>{"after", "after2"});
    CHECK(sounds[2].comparison.has_value());
    CHECK(sounds[0].sound.has_value());
    CHECK(sounds[0].sound->bytes == "x");
    CHECK_FALSE(sounds[3].sound.has_value());
    const report::ReportHeading heading_of = report::visit_heading(visit, "2031-05-14T08:30:59Z", "Retap test");
    CHECK(heading_of.when == "Report of 2031-05-14 08:30 UTC");
}
