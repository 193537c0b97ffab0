#include "report/visit_parts_json.hpp"

#include "chart/notation.hpp"

namespace retap::report {

namespace {

constexpr auto shown_numbering = chart::Numbering::iso;
constexpr int score_digits = 2;

template <class Content>
Json stamped(const visit::Said<Content>& said) {
    Json json{{"entry", said.entry}, {"at", said.stamp.at}, {"by", said.stamp.by}};
    if (said.inherited) {
        json["inherited"] = inherited_json(*said.inherited);
    }
    return json;
}

Json spread_json(const chart::HoldSpread& spread) {
    const auto count = [](const chart::HoldSpread::Count& part) {
        return Json{{"holds", part.holds}, {"tested", part.tested}};
    };
    return {{"right", count(spread.right)},
            {"left", count(spread.left)},
            {"front", count(spread.front)},
            {"back", count(spread.back)},
            {"sentence", sentence(spread)}};
}

Json holds_json(const visit::Said<visit::HoldsCharted>& said) {
    Json json = stamped(said);
    json["text"] = chart::write_holds(said.content.holds, shown_numbering);
    json["pairs"] = Json::array();
    for (const auto& [pair, film] : said.content.holds) {
        json["pairs"].push_back({{"upper", name(pair.upper, shown_numbering)},
                                 {"lower", name(pair.lower, shown_numbering)},
                                 {"film", chart::word(film)}});
    }
    json["spread"] = spread_json(chart::spread_of(said.content.holds));
    return json;
}

Json marks_json(const visit::Said<visit::MarksCharted>& said) {
    Json json = stamped(said);
    json["text"] = chart::write_marks(said.content.marks, shown_numbering);
    json["stages"] = Json::array();
    for (const chart::Stage stage : said.content.marks.stages) {
        json["stages"].push_back(chart::word(stage));
    }
    json["centric_again"] = said.content.marks.centric_again;
    json["marks"] = Json::array();
    for (const chart::Mark& mark : said.content.marks.marks) {
        json["marks"].push_back({{"tooth", name(mark.tooth, shown_numbering)},
                                 {"place", code(mark.tooth, mark.place)},
                                 {"plain", plain_name(mark.tooth, mark.place)},
                                 {"on_incline", mark.place.incline.has_value()},
                                 {"stage", chart::word(mark.stage)},
                                 {"weight", chart::word(mark.weight)},
                                 {"on_restoration", mark.on_restoration()},
                                 {"where", chart::word(mark.where)}});
    }
    return json;
}

Json feel_json(const visit::Said<visit::FeelNoted>& said) {
    Json json = stamped(said);
    json["numb"] = said.content.numb ? Json(*said.content.numb) : Json(nullptr);
    json["feel"] = chart::word(said.content.feel);
    json["words"] = said.content.words;
    return json;
}

Json comparison_part(const visit::Said<visit::Compared>& said) {
    const visit::Compared& compared = said.content;
    Json json = stamped(said);
    json["verdict"] = compare::word(compared.verdict);
    json["likeness"] = {{"score", rounded(compared.likeness.score, score_digits)},
                        {"low", rounded(compared.likeness.low, score_digits)},
                        {"high", rounded(compared.likeness.high, score_digits)}};
    json["sentence"] = compared.sentence;
    json["first_contact"] = chart::word(compared.first_contact);
    json["lead_change_ms"] = compared.lead_change_ms ? Json(rounded(*compared.lead_change_ms, 3)) : Json(nullptr);
    json["before_takes"] = compared.before_takes;
    json["takes"] = compared.now_takes;
    json["program"] = compared.program;
    return json;
}

Json takes_json(const std::vector<visit::Said<visit::TakeKept>>& takes) {
    Json list = Json::array();
    for (const auto& take : takes) {
        Json json = stamped(take);
        json["name"] = take.content.name;
        json["program"] = take.content.program;
        json["sound_sha256"] = take.content.sound_sha256;
        list.push_back(std::move(json));
    }
    return list;
}

Json changes_json(const visit::Visit& visit, const visit::Look& look) {
    const visit::Look* before = visit.baseline();
    if (look.name.kind == visit::LookKind::before) {
        return nullptr;
    }
    const chart::LookCharts none;
    const auto changes = chart::what_changed(before == nullptr ? none : before->charts(), look.charts(),
                                             visit.opened.content.treated, visit.crossing());
    return chart::sentences(changes, visit.numbering());
}

} // namespace

Json inherited_json(const visit::Inherited& inherited) {
    return {
        {"visit", inherited.uid}, {"entry", inherited.entry}, {"at", inherited.stamp.at}, {"by", inherited.stamp.by}};
}

Json teeth_json(const std::vector<chart::Tooth>& teeth) {
    Json list = Json::array();
    for (const chart::Tooth tooth : teeth) {
        list.push_back(name(tooth, shown_numbering));
    }
    return list;
}

Json decisions_json(const std::vector<visit::Said<visit::Decided>>& decisions) {
    Json list = Json::array();
    for (const auto& decision : decisions) {
        Json json = stamped(decision);
        json["action"] = word(decision.content.action);
        json["words"] = decision.content.words;
        list.push_back(std::move(json));
    }
    return list;
}

Json warnings_json(const std::vector<visit::Said<visit::WarningNoted>>& warnings) {
    Json list = Json::array();
    for (const auto& noted : warnings) {
        Json json = stamped(noted);
        json["about"] = noted.content.warning.about;
        json["plain"] = chart::plain_warning(noted.content.warning.about);
        json["raised_with"] = noted.content.warning.raised_with;
        json["decided"] = noted.content.warning.decided;
        list.push_back(std::move(json));
    }
    return list;
}

Json look_json(const visit::Visit& visit, const visit::Look& look) {
    return {{"look", text(look.name)},
            {"holds", look.holds ? holds_json(*look.holds) : Json(nullptr)},
            {"marks", look.marks ? marks_json(*look.marks) : Json(nullptr)},
            {"takes", takes_json(look.takes)},
            {"feel", look.feel ? feel_json(*look.feel) : Json(nullptr)},
            {"comparison", look.comparison ? comparison_part(*look.comparison) : Json(nullptr)},
            {"decisions", decisions_json(look.decisions)},
            {"changes", changes_json(visit, look)}};
}

} // namespace retap::report
