#include "chart/notation.hpp"
#include "report/markup.hpp"
#include "report/tooth_chart.hpp"
#include "report/visit_sections.hpp"
#include "report/wording.hpp"
#include "visit/clock.hpp"

#include <algorithm>

namespace retap::report {

namespace {

using Lines = std::vector<std::string>;

chart::Changes changes_of(const visit::Visit& visit, const visit::Look& look) {
    const visit::Look* before = visit.baseline();
    return chart::what_changed(before == nullptr ? chart::LookCharts{} : before->charts(), look.charts(),
                               visit.opened.content.treated, visit.crossing());
}

bool is_baseline(const visit::Look& look) {
    return look.name.kind == visit::LookKind::before;
}

/// When the look was begun: the first thing that was entered for it.
std::string begun(const visit::Visit& visit, const visit::Look& look) {
    for (const visit::Entry& entry : visit.entries) {
        if (entry.look == look.name) {
            const visit::Stamp& first = entry.inherited ? entry.inherited->stamp : entry.stamp;
            return readable_time(first.at) + ", " + first.by + (entry.inherited ? ", at an earlier visit" : "");
        }
    }
    return "";
}

Lines film_lines(const visit::Look& look) {
    return {look.holds ? sentence(chart::spread_of(look.holds->content.holds)) : "Not charted."};
}

Lines marks_lines(const visit::Look& look, const chart::Crossbite& crossbite) {
    if (!look.marks) {
        return {"Not charted."};
    }
    const chart::MarkChart& chart = look.marks->content.marks;
    const auto centric = chart.of(chart::Stage::centric);
    const auto stops = std::count_if(centric.begin(), centric.end(),
                                     [&](const chart::Mark& mark) { return chart::is_stop(mark, crossbite); });
    Lines lines;
    if (chart.has_stage(chart::Stage::centric)) {
        lines.push_back("Centric: " + count(centric.size(), "mark", "marks") + ", " +
                        count(static_cast<std::size_t>(stops), "stop", "stops") + ".");
    }
    std::string eccentric;
    for (const chart::Stage stage : {chart::Stage::working, chart::Stage::non_working, chart::Stage::protrusive}) {
        if (chart.has_stage(stage)) {
            eccentric += (eccentric.empty() ? "" : ", ") + std::string(word(stage)) + " " +
                         std::to_string(chart.of(stage).size());
        }
    }
    if (!eccentric.empty()) {
        lines.push_back("Eccentric marks: " + eccentric + ".");
    }
    return lines;
}

Lines sound_lines(const visit::Look& look) {
    if (look.comparison) {
        const visit::Compared& compared = look.comparison->content;
        if (!tells(compared.likeness)) {
            return {std::string(compare::word(compared.verdict)) + ", no likeness.", compared.sentence};
        }
        return {std::string(compare::word(compared.verdict)) + ", likeness " + number(compared.likeness.score, 0) +
                    " of 100 (" + number(compared.likeness.low, 0) + " to " + number(compared.likeness.high, 0) + ").",
                compared.sentence};
    }
    const std::string takes = look.takes.empty() ? "Not recorded." : count(look.takes.size(), "take", "takes") + ".";
    return {takes};
}

Lines feel_lines(const visit::Look& look) {
    if (!look.feel) {
        return {"Not asked."};
    }
    const visit::FeelNoted& noted = look.feel->content;
    Lines lines = {!noted.numb ? "Numbness not noted." : *noted.numb ? "Numb." : "Not numb."};
    lines.push_back(noted.feel == chart::Feel::not_asked ? "Not asked."
                                                         : "Feels " + std::string(word(noted.feel)) + ".");
    if (!noted.words.empty()) {
        lines.push_back("\u201C" + noted.words + "\u201D");
    }
    return lines;
}

Lines change_lines(const visit::Visit& visit, const visit::Look& look) {
    return is_baseline(look) ? Lines{"\u2013"} : chart::sentences(changes_of(visit, look), visit.numbering());
}

Lines decision_lines(const visit::Look& look) {
    Lines lines;
    for (const auto& decision : look.decisions) {
        lines.push_back(std::string(word(decision.content.action)) +
                        (decision.content.words.empty() ? "" : ": " + decision.content.words));
    }
    return lines;
}

template <class Content>
void table_row(Markup& out, const visit::Visit& visit, std::string_view name, Content content) {
    out.open("tr").element("th", {{"scope", "row"}}, name);
    for (const visit::Look& look : visit.looks) {
        out.open("td", {{"data-name", look_heading(look.name)}});
        for (const std::string& line : content(look)) {
            out.element("p", line);
        }
        out.close("td");
    }
    out.close("tr");
}

} // namespace

std::string readable_time(const std::string& at) {
    return visit::local_text(at);
}

std::string look_heading(const visit::LookName& name) {
    std::string heading = name.kind == visit::LookKind::before  ? "Before"
                          : name.kind == visit::LookKind::after ? "After"
                                                                : "Recheck";
    return name.number > 1 ? heading + ", look " + std::to_string(name.number) : heading;
}

std::string looks_table(const visit::Visit& visit) {
    if (visit.looks.empty()) {
        return "";
    }
    Markup out;
    out.open("section", {{"class", "looks"}, {"aria-label", "Looks side by side"}}).element("h2", "Looks side by side");
    out.open("div", {{"class", "wide-table"}, {"tabindex", "0"}, {"role", "region"}, {"aria-label", "Looks"}});
    out.open("table", {{"class", "visit-table"}}).open("thead").open("tr").element("td", "");
    for (const visit::Look& look : visit.looks) {
        out.element("th", {{"scope", "col"}}, look_heading(look.name));
    }
    out.close("tr").close("thead").open("tbody");
    table_row(out, visit, "When, by whom", [&](const visit::Look& look) { return Lines{begun(visit, look)}; });
    table_row(out, visit, "Film holds", film_lines);
    table_row(out, visit, "Paper marks", [&](const visit::Look& look) { return marks_lines(look, visit.crossing()); });
    table_row(out, visit, "Sound", sound_lines);
    table_row(out, visit, "Patient", feel_lines);
    table_row(out, visit, "Changed since before", [&](const visit::Look& look) { return change_lines(visit, look); });
    const bool decided = std::any_of(visit.looks.begin(), visit.looks.end(),
                                     [](const visit::Look& look) { return !look.decisions.empty(); });
    if (decided) {
        table_row(out, visit, "Decided, done", decision_lines);
    }
    out.close("tbody").close("table").close("div").close("section");
    return std::move(out).str();
}

std::string tooth_charts(const visit::Visit& visit, ChartsOf which) {
    const auto charted = [](const visit::Look& look) { return look.holds || look.marks; };
    const auto latest = std::find_if(visit.looks.rbegin(), visit.looks.rend(), charted);
    Markup out;
    out.open("section", {{"class", "tooth-charts"}, {"aria-label", "Tooth charts"}}).element("h2", "Tooth charts");
    bool any = false;
    bool outlined = false;
    for (const visit::Look& look : visit.looks) {
        if (!charted(look) || (which == ChartsOf::ends && !is_baseline(look) && look.name != latest->name)) {
            continue;
        }
        const chart::Changes changes = changes_of(visit, look);
        out.open("figure").element("h3", look_heading(look.name));
        const visit::Look* const before = is_baseline(look) ? nullptr : visit.baseline();
        outlined = outlined || before != nullptr;
        out.add(tooth_chart({.title = look_heading(look.name),
                             .charts = look.charts(),
                             .treated = visit.opened.content.treated,
                             .numbering = visit.numbering(),
                             .changes = is_baseline(look) ? nullptr : &changes,
                             .baseline = before == nullptr ? std::nullopt : std::optional(before->charts())}));
        out.close("figure");
        any = true;
    }
    out.add(tooth_chart_key(outlined)).close("section");
    return any ? std::move(out).str() : std::string();
}

} // namespace retap::report
