#include "report/staircase.hpp"

#include "report/markup.hpp"
#include "report/svg_frame.hpp"
#include "report/visit_sections.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <cmath>

namespace retap::report {

namespace {

constexpr double usual_lead_ms = 3.0; // a bar that long fills its column, unless another one is longer
constexpr double names = 104.0;       // room for what the rows are called

std::string_view sign(compare::Verdict verdict) {
    return verdict == compare::Verdict::alike ? "=" : verdict == compare::Verdict::different ? "\u2260" : "?";
}

std::string signed_ms(double ms) {
    return (ms > 0.0 ? "+" : ms < 0.0 ? "\u2212" : "") + number(std::abs(ms), 2) + " ms";
}

void rectangle(Markup& out, std::string_view css_class, double x, double y, double width, double height) {
    out.empty("rect", {{"class", std::string(css_class)},
                       {"x", coordinate(x)},
                       {"y", coordinate(y)},
                       {"width", coordinate(width)},
                       {"height", coordinate(height)},
                       {"rx", "3"}});
}

std::string described(const std::vector<StairStep>& steps) {
    std::string said;
    for (const StairStep& step : steps) {
        said += step.title + ": ";
        if (step.likeness) {
            said += "likeness " + number(step.likeness->score, 0) + ", ";
        }
        if (step.verdict) {
            said += std::string(compare::word(*step.verdict)) + ", ";
        }
        if (step.lead_change_ms) {
            said += "first sound " + (step.lead_as_before ? "as before" : signed_ms(*step.lead_change_ms)) + ", ";
        }
        said += step.film ? std::to_string(step.film->holds) + " of " + std::to_string(step.film->tested) + " hold. "
                          : std::string("film not tested. ");
    }
    return said;
}

struct Rows {
    Scale likeness;
    double title = 0.0;
    double lead = 0.0;
    double film = 0.0;
    double most_lead_ms = usual_lead_ms;
};

/// A bar never stops short of its number.
double most_lead_of(const std::vector<StairStep>& steps) {
    double most = usual_lead_ms;
    for (const StairStep& step : steps) {
        most = std::max(most, std::abs(step.lead_change_ms.value_or(0.0)));
    }
    return most;
}

void draw_step(Markup& out, const StairStep& step, const Rows& rows, double left, double width) {
    const double middle = left + width / 2;
    label(out, middle, rows.title, "middle", "stair-title", step.title);
    if (step.likeness) {
        const double high = rows.likeness(std::clamp(step.likeness->high, 0.0, 100.0));
        const double low = rows.likeness(std::clamp(step.likeness->low, 0.0, 100.0));
        const double at = rows.likeness(std::clamp(step.likeness->score, 0.0, 100.0));
        rectangle(out, "interval-bar", left + width * 0.25, high, width * 0.5, std::max(2.0, low - high));
        out.empty("line", {{"class", "tread"},
                           {"x1", coordinate(left)},
                           {"x2", coordinate(left + width)},
                           {"y1", coordinate(at)},
                           {"y2", coordinate(at)}});
        label(out, left + 6, at > rows.likeness(15.0) ? at - 7 : at + 19, "start", "stair-number",
              (step.verdict ? std::string(sign(*step.verdict)) + " " : std::string()) +
                  number(step.likeness->score, 0));
    }
    if (step.lead_change_ms) {
        const double share = std::abs(*step.lead_change_ms) / rows.most_lead_ms;
        if (!step.lead_as_before) {
            rectangle(out, "lead-bar", left + 4, rows.lead + 6, std::max(3.0, (width - 8) * share), 7);
        }
        label(out, left + 6, rows.lead, "start", "stair-words",
              step.lead_as_before ? "as before" : signed_ms(*step.lead_change_ms));
    }
    if (step.film) {
        const double each = std::min(12.0, (width - 12) / std::max(1, step.film->tested));
        for (int pair = 0; pair < step.film->tested; ++pair) {
            rectangle(out, pair < step.film->holds ? "film-held" : "film-not-held", left + 6 + pair * each,
                      rows.film + 6, each * 0.55, 14);
        }
        label(out, left + 6, rows.film, "start", "stair-words",
              std::to_string(step.film->holds) + " of " + std::to_string(step.film->tested));
    }
}

} // namespace

std::vector<StairStep>
stair_steps(const visit::Visit& visit,
            const std::function<std::optional<compare::Comparison>(const visit::Look&)>& comparison) {
    std::vector<StairStep> steps;
    for (const visit::Look& look : visit.looks) {
        StairStep step;
        step.title = look_heading(look.name);
        if (look.holds) {
            const auto total = chart::spread_of(look.holds->content.holds).total();
            step.film = HoldCount{total.holds, total.tested};
        }
        if (look.comparison) {
            const visit::Compared& kept = look.comparison->content;
            step.verdict = kept.verdict;
            if (compare::tells(kept.likeness)) {
                step.likeness = kept.likeness;
            }
            const auto whole = comparison(look);
            if (whole) {
                if (const auto* first =
                        compare::measure_named(whole->measures, word(compare::EvidenceKind::first_sound))) {
                    step.lead_change_ms = first->difference;
                    step.lead_as_before = first->finding == compare::Finding::within;
                }
            }
        }
        if (step.film || step.verdict || !look.takes.empty()) {
            steps.push_back(std::move(step));
        }
    }
    return steps;
}

double as_before_from(const compare::EvidenceSettings& settings) {
    return compare::likeness_of({.value = settings.limit, .low = settings.limit, .high = settings.limit}, settings)
        .score;
}

std::string staircase(const std::vector<StairStep>& steps) {
    const bool any = std::ranges::any_of(steps, [](const StairStep& step) { return step.likeness.has_value(); });
    if (steps.size() < 2 || !any) {
        return {};
    }
    // Words stay as large as they are: a longer visit has a wider drawing.
    const double width = 118.0;
    const double right = names + width * static_cast<double>(std::max<std::size_t>(steps.size(), 4)) + 4;
    const Frame frame{.width = right, .height = 276, .left = names, .right = right, .top = 30, .bottom = 172};
    const Rows rows{.likeness = {0.0, 100.0, frame.top, frame.bottom},
                    .title = 18,
                    .lead = 202,
                    .film = 240,
                    .most_lead_ms = most_lead_of(steps)};
    Markup out;
    open_drawing(out, frame, "staircase", "Look by look", described(steps));
    const double band = rows.likeness(as_before_from());
    rectangle(out, "as-before", frame.left, band, width * static_cast<double>(steps.size()), frame.bottom - band);
    label(out, frame.left - 10, (band + frame.bottom) / 2 - 2, "end", "stair-words", "as before");
    label(out, frame.left - 10, (band + frame.bottom) / 2 + 13, "end", "stair-words",
          "from " + number(as_before_from(), 0));
    label(out, frame.left - 10, frame.top + 14, "end", "stair-words", "likeness 0");
    label(out, frame.left - 10, rows.lead, "end", "stair-words", "first sound");
    label(out, frame.left - 10, rows.film, "end", "stair-words", "film holds");
    double left = frame.left;
    std::optional<double> tread;
    for (const StairStep& step : steps) {
        if (step.likeness) {
            const double at = rows.likeness(std::clamp(step.likeness->score, 0.0, 100.0));
            if (tread) {
                out.empty("line", {{"class", "riser"},
                                   {"x1", coordinate(left)},
                                   {"x2", coordinate(left)},
                                   {"y1", coordinate(*tread)},
                                   {"y2", coordinate(at)}});
            }
            tread = at;
        }
        draw_step(out, step, rows, left, width);
        left += width;
    }
    out.close("svg");
    return std::move(out).str();
}

} // namespace retap::report
