#include "chairside/page_json.hpp"

#include "chairside/undo.hpp"
#include "chart/place.hpp"
#include "report/chart_signs.hpp"
#include "report/html_sections.hpp"
#include "report/next_json.hpp"
#include "visit/inherit.hpp"
#include "visit/open_decision.hpp"

#include <algorithm>
#include <vector>

namespace retap::chairside {

namespace {

using chart::Numbering;
using report::Json;
using visit::Look;
using visit::LookKind;
using visit::LookName;

std::string plural(std::size_t n, const std::string& one, const std::string& many) {
    return std::to_string(n) + " " + (n == 1 ? one : many);
}

Json film_json(const chart::HoldChart& chart) {
    Json pairs = Json::array();
    for (const auto& [pair, film] : chart) {
        pairs.push_back({{"upper", pair.upper.number(Numbering::iso)},
                         {"lower", pair.lower.number(Numbering::iso)},
                         {"film", chart::word(film)}});
    }
    const auto total = chart::spread_of(chart).total();
    return {{"pairs", std::move(pairs)},
            {"sentence", std::to_string(total.holds) + " of " + std::to_string(total.tested) + " hold"}};
}

Json marks_json(const chart::MarkChart& chart) {
    Json stages = Json::array();
    for (const chart::Stage stage : chart.stages) {
        stages.push_back(chart::word(stage));
    }
    Json marks = Json::array();
    std::size_t heavy = 0;
    for (const chart::Mark& mark : chart.marks) {
        heavy += mark.weight == chart::Weight::heavy ? 1U : 0U;
        marks.push_back({{"tooth", mark.tooth.number(Numbering::iso)},
                         {"place", chart::code(mark.tooth, mark.place)},
                         {"name", chart::plain_name(mark.tooth, mark.place)},
                         {"stage", chart::word(mark.stage)},
                         {"weight", chart::word(mark.weight)},
                         {"where", chart::word(mark.where)}});
    }
    std::string sentence = chart.marks.empty() ? "No mark" : plural(chart.marks.size(), "mark", "marks");
    sentence += heavy == 0 ? "" : ", " + std::to_string(heavy) + " heavy";
    return {{"stages", std::move(stages)},
            {"marks", std::move(marks)},
            {"again", chart.centric_again},
            {"sentence", sentence}};
}

std::string earliest(const Look& look) {
    std::string first;
    const auto see = [&first](const visit::Stamp& stamp) {
        first = first.empty() || stamp.at < first ? stamp.at : first;
    };
    if (look.holds) {
        see(look.holds->first_said());
    }
    if (look.marks) {
        see(look.marks->first_said());
    }
    for (const auto& take : look.takes) {
        see(take.first_said());
    }
    return first;
}

std::string when(const std::string& utc, Moment now) {
    if (utc.empty()) {
        return {};
    }
    const DayAndTime at = day_and_time(utc, now);
    return at.day == "Today" ? at.time : at.day + ", " + at.time;
}

/// Never "today": a signature is read on other days.
std::string date_and_time(const std::string& utc) {
    const DayAndTime at = day_and_time(utc, Moment());
    return at.day + ", " + at.time;
}

/// Peak levels of the usable taps in dBFS, by time: the outline that new taps fall on.
Json peaks_json(const dsp::TakeAnalysis& analysis) {
    Json peaks = Json::array();
    for (const dsp::Tap& tap : analysis.taps) {
        if (tap.usable) {
            peaks.push_back(report::rounded(tap.peak_dbfs, 1));
        }
    }
    return peaks;
}

Json look_json(const Look& look, const VisitView& view) {
    Json takes = Json::array();
    for (const auto& take : look.takes) {
        const auto analysis = view.analysis(take.entry, take.content.name);
        takes.push_back({{"id", std::to_string(take.entry)},
                         {"usable", analysis->fitness.usable},
                         {"sentence", report::fitness_sentence(*analysis)},
                         {"reasons", analysis->fitness.reasons},
                         {"peaks", peaks_json(*analysis)},
                         {"when", when(take.first_said().at, view.now)}});
    }
    const std::string kind(look.name.kind == LookKind::before  ? "before"
                           : look.name.kind == LookKind::after ? "after"
                                                               : "recheck");
    return {{"id", visit::text(look.name)},
            {"kind", kind},
            {"title", title_of(look.name)},
            {"when", when(earliest(look), view.now)},
            {"film", look.holds ? film_json(look.holds->content.holds) : Json(nullptr)},
            {"marks", look.marks ? marks_json(look.marks->content.marks) : Json(nullptr)},
            {"takes", std::move(takes)}};
}

/// All looks in order: those with content, those only begun, and always a before.
std::vector<Look> all_looks(const visit::Visit& visit, const std::set<LookName>& begun) {
    std::vector<Look> looks = visit.looks;
    std::set<LookName> names = begun;
    names.insert(LookName{});
    for (const LookName& name : names) {
        if (visit.look(name) == nullptr) {
            looks.emplace_back().name = name;
        }
    }
    std::sort(looks.begin(), looks.end(), [](const Look& a, const Look& b) { return a.name < b.name; });
    return looks;
}

/// The newest look of which this holds; null when there is none.
const Look* newest(const visit::Visit& visit, bool (*holds)(const Look&)) {
    const auto found = std::find_if(visit.looks.rbegin(), visit.looks.rend(), holds);
    return found == visit.looks.rend() ? nullptr : &*found;
}

Json answer_json(const visit::Visit& visit) {
    const Look* const look = newest(visit, [](const Look& one) { return one.comparison.has_value(); });
    if (look == nullptr) {
        return nullptr;
    }
    const visit::Compared& compared = look->comparison->content;
    const bool number = tells(compared.likeness);
    return {{"look", visit::text(look->name)},
            {"verdict", compare::word(compared.verdict)},
            {"sentence", compared.sentence},
            {"score", number ? report::rounded(compared.likeness.score, 1) : Json(nullptr)},
            {"low", number ? report::rounded(compared.likeness.low, 1) : Json(nullptr)},
            {"high", number ? report::rounded(compared.likeness.high, 1) : Json(nullptr)}};
}

Json advice_json(const report::NextThings& next) {
    Json list = report::advice_json(next.advice);
    for (Json& one : list) {
        one["id"] = one["rule"];
        one["defersTo"] = one["defers_to"];
    }
    return list;
}

Json warnings_json(const visit::Visit& visit) {
    Json list = Json::array();
    for (const auto& noted : visit.warnings) {
        const chart::Warning& warning = noted.content.warning;
        list.push_back({{"about", warning.about},
                        {"plain", chart::plain_warning(warning.about)},
                        {"raisedWith", warning.raised_with},
                        {"decided", warning.decided}});
    }
    return list;
}

Json changes_json(const visit::Visit& visit) {
    const Look* const before = visit.baseline();
    const Look* const now = visit.latest();
    if (before == nullptr || now == nullptr) {
        return Json::array();
    }
    const chart::Changes changes =
        chart::what_changed(before->charts(), now->charts(), visit.opened.content.treated, visit.crossing());
    if (!changes.holds_compared && !changes.centric_compared) {
        return Json::array();
    }
    return chart::sentences(changes, visit.numbering());
}

/// How the holds are spread in the newest look that has any.
std::string spread_sentence(const visit::Visit& visit) {
    const Look* const look = newest(visit, [](const Look& one) { return one.holds.has_value(); });
    return look == nullptr
               ? std::string()
               : title_of(look->name) + ": " + chart::sentence(chart::spread_of(look->holds->content.holds));
}

Json teeth_json(const std::vector<chart::Tooth>& teeth) {
    Json numbers = Json::array();
    for (const chart::Tooth tooth : teeth) {
        numbers.push_back(tooth.number(Numbering::iso));
    }
    return numbers;
}

Json links_json(const std::vector<visit::Link>& links, Moment now) {
    Json list = Json::array();
    for (const visit::Link& link : links) {
        list.push_back({{"id", link.id == 0 ? Json(nullptr) : Json(std::to_string(link.id))},
                        {"label", link.erased ? "A visit that was erased" : link.label},
                        {"when", when(link.opened_at, now)},
                        {"signed", link.closed}});
    }
    return list;
}

Json open_json(const visit::Visit& visit, Moment now) {
    const auto open = visit::open_decision(visit);
    if (!open) {
        return nullptr;
    }
    return {{"action", visit::word(open->decision.content.action)},
            {"since", when(open->decision.first_said().at, now)},
            {"by", open->decision.first_said().by},
            {"numb", open->numb ? Json(*open->numb) : Json(nullptr)},
            {"words", open->decision.content.words}};
}

Json signed_json(const visit::Visit& visit, const VisitView& view) {
    if (!visit.signature) {
        return nullptr;
    }
    return {{"name", visit.signature->stamp.by},
            {"role", visit.signature->content.role},
            {"comment", visit.signature->content.comment},
            {"when", date_and_time(visit.signature->stamp.at)},
            {"intact", view.intact}};
}

} // namespace

Json visit_json(const visit::Visit& visit, const VisitView& view) {
    Json looks = Json::array();
    for (const Look& look : all_looks(visit, view.begun)) {
        looks.push_back(look_json(look, view));
    }
    const Look* const felt = visit.latest() != nullptr ? visit.latest() : visit.baseline();
    const std::optional<visit::FeelNoted> feel =
        felt != nullptr && felt->feel ? std::optional(felt->feel->content) : std::nullopt;
    const auto undo = undo_of(visit);
    const visit::Opened& opened = visit.opened.content;
    const report::NextThings next = report::next_of(visit, visit.latest());
    return {{"id", std::to_string(visit.id)},
            {"label", opened.label},
            {"teeth", teeth_json(opened.treated)},
            {"numbering", chart::word(opened.numbering)},
            {"when", when(visit.opened.stamp.at, view.now)},
            {"clinician", opened.worker},
            {"procedure", opened.procedure},
            {"supervisor", opened.supervisor},
            {"decision", felt != nullptr && !felt->decisions.empty()
                             ? Json(visit::word(felt->decisions.back().content.action))
                             : Json(nullptr)},
            {"numb", feel && feel->numb ? Json(*feel->numb) : Json(nullptr)},
            {"feel", feel ? chart::word(feel->feel) : chart::word(chart::Feel::not_asked)},
            {"looks", std::move(looks)},
            {"answer", answer_json(visit)},
            {"changes", changes_json(visit)},
            {"crossbite", visit.crossbite ? teeth_json(*visit.crossing().teeth) : Json(nullptr)},
            {"warnings", warnings_json(visit)},
            {"next", visit.closed() ? Json::array() : advice_json(next)},
            {"firstStep", visit.closed() ? Json(nullptr) : report::first_step_json(next)},
            {"questions", visit.closed() ? Json::array() : report::questions_json(next, visit.numbering())},
            {"contradictions", report::contradictions_json(next, visit.numbering())},
            {"spread", spread_sentence(visit)},
            {"undo", undo ? Json(undo->words) : Json(nullptr)},
            {"earlier", links_json(visit.chain.earlier, view.now)},
            {"later", links_json(visit.chain.later, view.now)},
            {"baselineOfEarlier", visit::baseline_is_inherited(visit)},
            {"stillOpen", open_json(visit, view.now)},
            {"discardable", visit.holds_nothing_of_its_own()},
            {"signed", signed_json(visit, view)}};
}

namespace {

Json waiting_json(const visit::VisitSummary& summary, Moment now) {
    if (!summary.waiting()) {
        return nullptr;
    }
    const visit::VisitSummary::Open& open = *summary.open;
    return {{"since", when(open.since.at, now)},
            {"by", open.since.by},
            {"numb", open.numb ? Json(*open.numb) : Json(nullptr)},
            {"due", open.since.at < utc_text(visit::start_of_day(now))}};
}

} // namespace

Json summary_json(const visit::VisitSummary& summary, Moment now) {
    const DayAndTime opened = day_and_time(summary.opened_at, now);
    std::string state = "Nothing yet";
    if (const auto look = visit::look_from(summary.latest_look)) {
        state = look->kind == LookKind::before ? "Baseline kept" : title_of(*look);
    }
    if (summary.latest_sound) {
        state += ": " + std::string(compare::word(*summary.latest_sound));
    }
    if (summary.closed) {
        state += ", signed";
    }
    return {{"id", std::to_string(summary.id)},
            {"label", summary.label},
            {"teeth",
             (summary.treated.size() == 1 ? "Tooth " : "Teeth ") + chart::list(summary.treated, summary.numbering)},
            {"day", opened.day},
            {"time", opened.time},
            {"state", state},
            {"verdict", summary.latest_sound ? Json(compare::word(*summary.latest_sound)) : Json(nullptr)},
            {"signed", summary.closed},
            {"clinician", summary.worker},
            {"supervisor", summary.supervisor},
            {"procedure", summary.procedure},
            {"waiting", waiting_json(summary, now)},
            {"adjusting", summary.open && summary.open->action == visit::Action::adjust},
            {"followUp", summary.follows.has_value()}};
}

namespace {

/// Where the spot and its inclines are drawn, as in the report.
Json places_json(chart::Tooth tooth, chart::Spot spot) {
    const auto point = [](const chart::Place& place) {
        const report::OnTooth at = report::place_on_tooth(place);
        return Json::array({report::rounded(at.distal, 2), report::rounded(at.inward, 2)});
    };
    Json places{{"", point({spot, std::nullopt})}};
    if (chart::has_inclines(spot)) {
        const std::string bare = chart::code(tooth, spot);
        for (const chart::Facing facing :
             {chart::Facing::inner, chart::Facing::outer, chart::Facing::mesial, chart::Facing::distal}) {
            const chart::Place place{spot, facing};
            places[chart::code(tooth, place).substr(bare.size())] = point(place);
        }
    }
    return places;
}

} // namespace

Json spots_json() {
    Json teeth = Json::object();
    for (const chart::Tooth tooth : chart::all_teeth()) {
        Json spots = Json::array();
        for (const chart::Spot spot : chart::spots_of(tooth)) {
            spots.push_back({{"code", chart::code(tooth, spot)},
                             {"name", chart::plain_name(tooth, chart::Place{spot, std::nullopt})},
                             {"inclines", chart::has_inclines(spot)},
                             {"at", places_json(tooth, spot)}});
        }
        teeth[std::to_string(tooth.number(Numbering::iso))] = std::move(spots);
    }
    return teeth;
}

} // namespace retap::chairside
