#include "report/visit_json.hpp"

#include "report/visit_parts_json.hpp"
#include "visit/open_decision.hpp"

#include <algorithm>

namespace retap::report {

namespace {

Json open_json(const visit::VisitSummary& summary) {
    if (!summary.open) {
        return nullptr;
    }
    return {{"action", word(summary.open->action)},
            {"since", summary.open->since.at},
            {"by", summary.open->since.by},
            {"numb", summary.open->numb ? Json(*summary.open->numb) : Json(nullptr)}};
}

Json opened_json(const visit::Visit& visit) {
    const visit::Opened& opened = visit.opened.content;
    return {{"format", "retap.visit/1"},
            {"visit", visit.id},
            {"uid", visit.uid},
            {"label", opened.label},
            {"procedure", opened.procedure},
            {"treated", teeth_json(opened.treated)},
            {"numbering", chart::word(opened.numbering)},
            {"worker", opened.worker},
            {"supervisor", opened.supervisor},
            {"opened_at", visit.opened.stamp.at},
            {"follows", opened.follows ? Json(*opened.follows) : Json(nullptr)}};
}

Json signature_json(const visit::Visit& visit) {
    if (!visit.signature) {
        return nullptr;
    }
    const auto& signature = *visit.signature;
    return {{"by", signature.stamp.by},
            {"role", signature.content.role},
            {"at", signature.stamp.at},
            {"comment", signature.content.comment}};
}

Json entry_json(const visit::Entry& entry) {
    Json body = Json::object();
    const visit::Fields fields = fields_of(entry.body);
    for (const auto& [name, value] : fields.all()) {
        body[name] = value;
    }
    Json json{{"number", entry.number},
              {"kind", kind_of(entry.body)},
              {"look", entry.look ? Json(text(*entry.look)) : Json(nullptr)},
              {"at", entry.stamp.at},
              {"by", entry.stamp.by},
              {"corrects", entry.correction ? Json(entry.correction->of) : Json(nullptr)},
              {"reason", entry.correction ? Json(entry.correction->reason) : Json(nullptr)},
              {"body", std::move(body)},
              {"digest", entry.digest}};
    if (entry.inherited) {
        json["inherited"] = inherited_json(*entry.inherited);
    }
    return json;
}

Json links_json(const std::vector<visit::Link>& links) {
    Json list = Json::array();
    for (const visit::Link& link : links) {
        list.push_back({{"visit", link.id == 0 ? Json(nullptr) : Json(link.id)},
                        {"uid", link.uid},
                        {"label", link.label},
                        {"opened_at", link.opened_at.empty() ? Json(nullptr) : Json(link.opened_at)},
                        {"closed", link.closed},
                        {"erased", link.erased}});
    }
    return list;
}

} // namespace

Json visit_json(const visit::Visit& visit, std::optional<chart::SoundSays> latest_sound) {
    Json json = opened_json(visit);
    json["closed"] = visit.closed();
    json["signature"] = signature_json(visit);
    json["digest"] = visit.digest();
    json["looks"] = Json::array();
    for (const visit::Look& look : visit.looks) {
        json["looks"].push_back(look_json(visit, look));
    }
    json["decisions"] = decisions_json(visit.decisions);
    json["still_open"] = open_json(visit);
    json["chain"] = {{"earlier", links_json(visit.chain.earlier)}, {"later", links_json(visit.chain.later)}};
    json["crossbite"] = visit.crossbite ? teeth_json(*visit.crossing().teeth) : Json(nullptr);
    json["warnings"] = warnings_json(visit.warnings);
    const NextThings next = next_of(visit, visit.latest(), latest_sound);
    json["next"] = advice_json(next.advice);
    json["first_step"] = first_step_json(next);
    json["questions"] = questions_json(next, visit.numbering());
    json["contradictions"] = contradictions_json(next, visit.numbering());
    json["entries"] = Json::array();
    for (const visit::Entry& entry : visit.entries) {
        json["entries"].push_back(entry_json(entry));
    }
    return json;
}

Json open_json(const visit::Visit& visit) {
    const auto open = visit::open_decision(visit);
    if (!open) {
        return nullptr;
    }
    return {{"entry", open->decision.entry},
            {"action", word(open->decision.content.action)},
            {"since", open->decision.first_said().at},
            {"by", open->decision.first_said().by},
            {"look", text(open->look)},
            {"numb", open->numb ? Json(*open->numb) : Json(nullptr)},
            {"words", open->decision.content.words}};
}

Json visits_json(const std::vector<visit::VisitSummary>& visits) {
    Json list = Json::array();
    for (const visit::VisitSummary& summary : visits) {
        list.push_back(
            {{"visit", summary.id},
             {"uid", summary.uid},
             {"label", summary.label},
             {"procedure", summary.procedure},
             {"treated", teeth_json(summary.treated)},
             {"numbering", chart::word(summary.numbering)},
             {"worker", summary.worker},
             {"supervisor", summary.supervisor},
             {"opened_at", summary.opened_at},
             {"changed_at", summary.changed_at},
             {"closed", summary.closed},
             {"follows", summary.follows ? Json(*summary.follows) : Json(nullptr)},
             {"followed", summary.followed},
             {"still_open", open_json(summary)},
             {"latest_look", summary.latest_look.empty() ? Json(nullptr) : Json(summary.latest_look)},
             {"latest_sound", summary.latest_sound ? Json(compare::word(*summary.latest_sound)) : Json(nullptr)}});
    }
    return {{"format", "retap.visits/1"}, {"visits", std::move(list)}};
}

Json agreement_json(const chart::Agreement& agreement) {
    return {{"cases", agreement.cases},
            {"observed", agreement.observed ? significant(*agreement.observed) : Json(nullptr)},
            {"kappa", agreement.kappa ? significant(*agreement.kappa) : Json(nullptr)},
            {"categories", agreement.table.categories},
            {"counts", agreement.table.counts}};
}

} // namespace retap::report
