#include "report/lesson_bench_section.hpp"

#include "compare/compare_takes.hpp"
#include "report/figure.hpp"
#include "report/lesson_heard.hpp"
#include "report/lesson_plot.hpp"
#include "report/markup.hpp"
#include "report/plots.hpp"
#include "report/svg_frame.hpp"
#include "report/tap_picture.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <span>

namespace retap::report {

namespace {

void head(Markup& out, std::initializer_list<std::string_view> names) {
    out.open("thead").open("tr");
    for (const std::string_view name : names) {
        out.element("th", {{"scope", "col"}}, name);
    }
    out.close("tr").close("thead").open("tbody");
}

/// What a visit with these two takes would say.
std::string answer(const compare::Comparison& comparison) {
    std::string said = "Retap would say: " + std::string(compare::word(comparison.verdict));
    const compare::Likeness likeness = comparison.likeness;
    if (compare::tells(likeness)) {
        said += ", likeness " + number(likeness.score, 0) + " of 100";
    }
    said += ".";
    return said;
}

/// What the verdict is made of, a line for each kind that could be had: how the taps land, by how much the first sound
/// leads, when the energy comes, and whether contacts came or went.
void what_decides(Markup& out, const compare::Comparison& comparison) {
    out.open("ul", {{"class", "bench-decides"}, {"aria-label", "What decides"}});
    for (const compare::MeasureComparison& measure : comparison.measures) {
        if (measure.decides) {
            out.element("li", measure.plain);
        }
    }
    for (const compare::Evidence& kind : comparison.evidence) {
        if (kind.kind == compare::EvidenceKind::later_contacts) {
            out.element("li", kind.spoke ? "Contacts inside a tap came, went or moved."
                                         : "The contacts inside a tap are as they were, as far as they are heard.");
        }
    }
    out.close("ul");
}

void words(Markup& out, const BenchView& view, const compare::Comparison& comparison) {
    out.open("section", {{"class", "lesson"}, {"aria-label", "The bite"}});
    out.element("h2", "What happened, and what was heard");
    out.element("p", "The bite: " + view.bite + ". " + view.physics);
    out.element("p", {{"class", "bench-answer"}}, answer(comparison));
    what_decides(out, comparison);
    out.element("p", has_spread(view.made.heard) ? "Several contacts were told apart in the sound of this bite."
                                                 : "The contacts were not told apart.");
    out.element("p", {{"class", "quiet"}},
                "In a patient nobody knows the closing speed: the sound gives no height there, and does not say which "
                "tooth it is. Film holds and paper marks do.");
    out.open("figure").add(
        lesson_plot({{.name = "balanced", .truth = view.balanced.truth, .heard = &view.balanced.heard},
                     {.name = "this bite", .truth = view.made.truth, .heard = &view.made.heard, .side = Side::after}}));
    out.element("figcaption",
                "Truth: a disc for each pair of teeth, where it first met in a tap. Heard, from the sound "
                "alone: the bar is how long a tap takes to rise to its peak, a square is a contact that "
                "was told apart in one tap.");
    out.close("figure");
}

std::string reading(const HeardMeasure& measure) {
    return measure.middle ? quantity(*measure.middle, measure.unit) : "not told apart";
}

std::string moved(const HeardMeasure& from, const HeardMeasure& to) {
    return from.middle && to.middle ? signed_quantity(*to.middle - *from.middle, to.unit == "dBFS" ? "dB" : to.unit)
                                    : "";
}

void measures(Markup& out, const BenchView& view) {
    const auto before = heard_measures(view.balanced.heard);
    const auto now = heard_measures(view.made.heard);
    out.open("div",
             {{"class", "lesson-table"}, {"tabindex", "0"}, {"role", "region"}, {"aria-label", "What was measured"}});
    out.open("table", {{"class", "visit-table"}});
    out.element("caption", "Measured from the sound alone, in the middle of " +
                               count(view.made.heard.taps.size(), "tap", "taps") + " heard of " +
                               std::to_string(view.taps));
    head(out, {"Measure", "Balanced", "This bite", "Change"});
    for (std::size_t i = 0; i < now.size(); ++i) {
        out.open("tr").element("th", {{"scope", "row"}}, now[i].label);
        out.element("td", reading(before[i])).element("td", reading(now[i])).element("td", moved(before[i], now[i]));
        out.close("tr");
    }
    out.close("tbody").close("table").close("div");
}

void pairs(Markup& out, const BenchView& view) {
    out.open("details", {{"open", ""}}).element("summary", "When each pair of teeth really met");
    out.open("div", {{"class", "lesson-table"},
                     {"tabindex", "0"},
                     {"role", "region"},
                     {"aria-label", "When each pair of teeth really met"}});
    out.open("table", {{"class", "visit-table compact"}});
    head(out, {"Upper tooth", "Meets after", "Closing at", "In taps"});
    for (const bite::PairTiming& pair : view.made.truth.pairs) {
        const auto tooth = chart::Tooth::from_number(bite::upper_tooth_iso(pair.pair), chart::Numbering::iso);
        out.open("tr").element("th", {{"scope", "row"}}, chart::name(*tooth, view.numbering));
        out.element("td", quantity(pair.after_ms, "ms")).element("td", number(pair.speed_mm_s, 0) + "\u00A0mm/s");
        out.element("td", std::to_string(pair.taps) + " of " + std::to_string(view.taps)).close("tr");
    }
    out.close("tbody").close("table").close("div").close("details");
}

void plots(Markup& out, const BenchView& view, const compare::Comparison& comparison) {
    const SideNames names{.before = "Balanced", .after = "This bite"};
    out.open("section", {{"class", "plots"}, {"aria-label", "Plots"}});
    out.open("div", {{"class", "plots-head"}}).element("h2", "How it sounds").open("p", {{"class", "keys"}});
    key_entry(out, "before", "balanced");
    key_entry(out, "after", "this bite");
    out.close("p").close("div");
    figure(out, "wide picture", draw(picture_of(comparison), {}, names), "The taps, balanced above and this bite below",
           "Level over time, each tap relative to its loudest moment and all laid over each other by it. The bracket "
           "runs from the first sound to the main impact.");
    figure(out, "half", bands_plot(view.balanced.heard, view.made.heard), "Low to high",
           "Where the sound lies, in third-octave bands. The strongest band of each side is 0 dB.");
    out.close("section");
}

} // namespace

std::string lesson_bench_section(const BenchView& view) {
    Markup out;
    const compare::Comparison comparison =
        compare::compare_takes(std::span(&view.balanced.heard, 1), std::span(&view.made.heard, 1));
    words(out, view, comparison);
    measures(out, view);
    pairs(out, view);
    out.close("section");
    plots(out, view, comparison);
    return std::move(out).str();
}

} // namespace retap::report
