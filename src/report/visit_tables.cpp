// Every tested pair and every mark, look by look.
#include "report/markup.hpp"
#include "report/visit_sections.hpp"

#include <algorithm>
#include <set>
#include <tuple>

namespace retap::report {

namespace {

void table_head(Markup& out, const visit::Visit& visit, std::string_view first) {
    out.open("table", {{"class", "visit-table compact"}}).open("thead").open("tr");
    out.element("th", {{"scope", "col"}}, first);
    for (const visit::Look& look : visit.looks) {
        out.element("th", {{"scope", "col"}}, look_heading(look.name));
    }
    out.close("tr").close("thead").open("tbody");
}

std::string film_cell(const visit::Visit& visit, const visit::Look& look, const chart::TeethPair& pair) {
    if (!look.holds) {
        return "\u2013";
    }
    const auto film = chart::result_of(look.holds->content.holds, pair);
    if (!film) {
        return "not tested";
    }
    std::string cell(word(*film));
    const visit::Look* before = visit.baseline();
    if (before == nullptr || before == &look || !before->holds) {
        return cell;
    }
    const auto was = chart::result_of(before->holds->content.holds, pair);
    if (was == chart::Film::hold && *film != chart::Film::hold) {
        cell += " (lost)";
    } else if (was && *was != chart::Film::hold && *film == chart::Film::hold) {
        cell += " (gained)";
    }
    return cell;
}

void holds_table(Markup& out, const visit::Visit& visit) {
    std::set<chart::TeethPair> pairs;
    for (const visit::Look& look : visit.looks) {
        if (look.holds) {
            for (const auto& [pair, film] : look.holds->content.holds) {
                pairs.insert(pair);
            }
        }
    }
    if (pairs.empty()) {
        return;
    }
    out.open("div").element("h3", "Film, pair by pair");
    table_head(out, visit, "Pair");
    for (const chart::TeethPair& pair : pairs) {
        out.open("tr").element("th", {{"scope", "row"}}, name(pair, visit.numbering()));
        for (const visit::Look& look : visit.looks) {
            out.element("td", film_cell(visit, look, pair));
        }
        out.close("tr");
    }
    out.close("tbody").close("table").close("div");
}

using MarkKey = std::tuple<chart::Tooth, chart::Place>;

std::string mark_cell(const visit::Look& look, const MarkKey& key) {
    if (!look.marks) {
        return "\u2013";
    }
    std::string cell;
    for (const chart::Mark& mark : look.marks->content.marks.marks) {
        if (MarkKey(mark.tooth, mark.place) == key) {
            cell += cell.empty() ? "" : "; ";
            cell += (mark.stage == chart::Stage::centric ? "" : std::string(word(mark.stage)) + ", ") +
                    std::string(word(mark.weight)) +
                    (mark.on_restoration()                ? ", on restoration"
                     : mark.where == chart::Where::beside ? ", beside restoration"
                                                          : "");
        }
    }
    return cell.empty() ? "none" : cell;
}

void marks_table(Markup& out, const visit::Visit& visit) {
    std::set<MarkKey> places;
    for (const visit::Look& look : visit.looks) {
        if (look.marks) {
            for (const chart::Mark& mark : look.marks->content.marks.marks) {
                places.emplace(mark.tooth, mark.place);
            }
        }
    }
    if (places.empty()) {
        return;
    }
    out.open("div").element("h3", "Marks, place by place (centric unless said)");
    table_head(out, visit, "Place");
    for (const MarkKey& key : places) {
        const auto& [tooth, place] = key;
        out.open("tr").element("th", {{"scope", "row"}},
                               name(tooth, visit.numbering()) + " " + plain_name(tooth, place));
        for (const visit::Look& look : visit.looks) {
            out.element("td", mark_cell(look, key));
        }
        out.close("tr");
    }
    out.close("tbody").close("table").close("div");
}

} // namespace

std::string holds_and_marks_tables(const visit::Visit& visit) {
    Markup tables;
    holds_table(tables, visit);
    marks_table(tables, visit);
    if (tables.str().empty()) {
        return "";
    }
    Markup out;
    out.open("section", {{"class", "visit-tables"}, {"aria-label", "Holds and marks"}});
    out.element("h2", "Holds and marks").add(tables.str()).close("section");
    return std::move(out).str();
}

} // namespace retap::report
