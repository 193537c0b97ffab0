#include "report/html_sections.hpp"
#include "report/markup.hpp"
#include "report/svg_frame.hpp"
#include "report/wording.hpp"

#include <algorithm>

namespace retap::report {

namespace {

std::string_view sign(compare::Verdict verdict) {
    switch (verdict) {
    case compare::Verdict::alike:
        return "=";
    case compare::Verdict::different:
        return "\u2260";
    case compare::Verdict::unclear:
        break;
    }
    return "?";
}

/// What to do with the answer. Film and marks lead; nothing here advises removing structure.
std::string_view meaning(compare::Verdict verdict) {
    switch (verdict) {
    case compare::Verdict::alike:
        return "The sound gives no sign that the bite changed. Film holds and paper marks still come first.";
    case compare::Verdict::different:
        return "Something changed: the bite, or how it was recorded. Make sure the pick-up and the posture were the "
               "same, then look at film holds and paper marks again.";
    case compare::Verdict::unclear:
        break;
    }
    return "The sound cannot say yet. Go by film holds and paper marks.";
}

void likeness_scale(Markup& out, const compare::Likeness& likeness) {
    const Frame frame{.width = 480, .height = 74, .left = 14, .right = 466, .top = 8, .bottom = 40};
    const Scale x{0.0, 100.0, frame.left, frame.right};
    const auto at = [&](double score) { return x(std::clamp(score, 0.0, 100.0)); };
    const std::string score = number(likeness.score, 0);
    const std::string interval = number(likeness.low, 0) + " and " + number(likeness.high, 0);

    out.open("div", {{"class", "likeness"}});
    out.open("p", {{"class", "likeness-score"}});
    out.element("span", "Likeness ").element("strong", score).element("span", {{"class", "quiet"}}, " of 100");
    out.element("span", {{"class", "interval"}}, "between " + interval);
    out.close("p");
    open_drawing(out, frame, "likeness", "Likeness", score + " of 100, between " + interval);
    const double middle = (frame.top + frame.bottom) / 2;
    out.empty("line", {{"class", "zero"},
                       {"x1", coordinate(frame.left)},
                       {"x2", coordinate(frame.right)},
                       {"y1", coordinate(middle)},
                       {"y2", coordinate(middle)}});
    for (const double tick : {0.0, 25.0, 50.0, 75.0, 100.0}) {
        out.empty("line", {{"class", "zero"},
                           {"x1", coordinate(x(tick))},
                           {"x2", coordinate(x(tick))},
                           {"y1", coordinate(middle - 5)},
                           {"y2", coordinate(middle + 5)}});
    }
    label(out, frame.left - 12, frame.bottom + 22, "start", "tick", "0 nothing alike");
    label(out, frame.right + 12, frame.bottom + 22, "end", "tick", "100 the same");
    const double from = at(likeness.low);
    out.empty("rect", {{"class", "interval-bar"},
                       {"x", coordinate(from)},
                       {"y", coordinate(middle - 9)},
                       {"width", coordinate(std::max(2.0, at(likeness.high) - from))},
                       {"height", "18"},
                       {"rx", "4"}});
    out.empty("line", {{"class", "score-line"},
                       {"x1", coordinate(at(likeness.score))},
                       {"x2", coordinate(at(likeness.score))},
                       {"y1", coordinate(middle - 15)},
                       {"y2", coordinate(middle + 15)}});
    out.close("svg");
    out.element("p", {{"class", "quiet"}},
                "The bar is what these taps leave open. More good taps make the answer clearer.");
    out.close("div");
}

} // namespace

std::string verdict_block(const compare::Comparison& comparison) {
    const std::string word(compare::word(comparison.verdict));
    Markup out;
    out.open("section", {{"class", "verdict verdict-" + word}, {"aria-label", "Verdict"}});
    out.open("div", {{"class", "verdict-words"}});
    out.open("p", {{"class", "verdict-line"}});
    out.element("span", {{"class", "sign"}, {"aria-hidden", "true"}}, sign(comparison.verdict));
    out.element("strong", {{"class", "verdict-word"}}, word);
    out.close("p");
    out.element("p", {{"class", "verdict-sentence"}}, comparison.sentence);
    out.element("p", meaning(comparison.verdict));
    if (!comparison.reasons.empty()) {
        out.open("ul", {{"class", "reasons"}});
        for (const std::string& reason : comparison.reasons) {
            out.element("li", reason);
        }
        out.close("ul");
    }
    out.close("div");
    if (const compare::Likeness& likeness = comparison.likeness; tells(likeness)) {
        likeness_scale(out, likeness);
    } else {
        out.open("div", {{"class", "likeness"}});
        out.element("p", {{"class", "likeness-score"}}, "No likeness");
        out.element("p", {{"class", "quiet"}}, "It takes two takes that are fit for measuring.");
        out.close("div");
    }
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::report
