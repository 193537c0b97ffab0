#include "chairside/routes.hpp"

#include "chairside/page_json.hpp"
#include "error.hpp"
#include "report/next_json.hpp"

#include <charconv>

namespace retap::chairside {

using report::Json;

visit::VisitId visit_of(const std::string& part) {
    visit::VisitId id = 0;
    const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), id);
    if (error != std::errc() || end != part.data() + part.size() || id < 1) {
        throw InputError("There is no such visit.");
    }
    return id;
}

visit::LookName look_of(const std::string& part) {
    const auto look = visit::look_from(part);
    if (!look) {
        throw InputError("There is no such look.");
    }
    return *look;
}

Json body_of(const HttpRequest& request) {
    Json body = Json::parse(request.body, nullptr, false);
    if (!body.is_object()) {
        throw InputError("What the page sent cannot be read. Reload the page.");
    }
    return body;
}

namespace {

std::optional<std::string> text_in(const Json& body, const char* name) {
    const auto found = body.find(name);
    if (found == body.end() || found->is_null()) {
        return std::nullopt;
    }
    if (!found->is_string()) {
        throw InputError("What the page sent cannot be read. Reload the page.");
    }
    return found->get<std::string>();
}

std::optional<std::vector<chart::Tooth>> teeth_in(const Json& body) {
    const auto found = body.find("teeth");
    if (found == body.end()) {
        return std::nullopt;
    }
    std::vector<chart::Tooth> teeth;
    for (const Json& number : *found) {
        const bool fits = number.is_number_unsigned() && number.get<std::uint64_t>() < 100;
        const auto tooth = fits ? chart::Tooth::from_number(number.get<int>(), chart::Numbering::iso) : std::nullopt;
        if (!tooth) {
            throw InputError("There is no such tooth.");
        }
        teeth.push_back(*tooth);
    }
    return teeth;
}

std::optional<chart::Numbering> numbering_in(const Json& body) {
    const auto word = text_in(body, "numbering");
    const auto numbering = word ? chart::numbering_from(*word) : std::nullopt;
    if (word && !numbering) {
        throw InputError("Teeth are numbered iso or universal.");
    }
    return numbering;
}

HttpReply the_visit(VisitDesk& visits, visit::VisitId id) {
    return json_reply(report::json_text(visits.visit(id), report::JsonLayout::one_line));
}

visit::LookKind kind_in(const Json& body) {
    const auto look = visit::look_from(text_in(body, "kind").value_or(""));
    if (!look || look->number != 1) {
        throw InputError("A look is before, after or recheck.");
    }
    return look->kind;
}

PatientSays says_in(const Json& body) {
    PatientSays says;
    if (const auto numb = body.find("numb"); numb != body.end() && numb->is_boolean()) {
        says.numb = numb->get<bool>();
    }
    if (const auto feel = text_in(body, "feel")) {
        says.feel = chart::feel_from(*feel);
        if (!says.feel) {
            throw InputError("The bite feels comfortable, high or other.");
        }
    }
    return says;
}

} // namespace

void add_visit_routes(Router& router, VisitDesk& visits) {
    router.add("GET", "/api/visits", [&](const HttpRequest& request, const PathParts&) {
        return json_reply(
            report::json_text(visits.visits(std::string(request.query_value("label"))), report::JsonLayout::one_line));
    });
    router.add("GET", "/api/worklist", [&](const HttpRequest&, const PathParts&) {
        return json_reply(report::json_text(visits.worklist(), report::JsonLayout::one_line));
    });
    router.add("GET", "/api/spots", [](const HttpRequest&, const PathParts&) {
        return json_reply(report::json_text(spots_json(), report::JsonLayout::one_line));
    });
    router.add("GET", "/api/rules", [](const HttpRequest&, const PathParts&) {
        return json_reply(report::json_text(report::rules_json(), report::JsonLayout::one_line));
    });
    router.add("POST", "/api/visits", [&](const HttpRequest& request, const PathParts&) {
        const Json body = body_of(request);
        if (const auto earlier = text_in(body, "follows")) {
            return the_visit(visits, visits.open_following(visit_of(*earlier)));
        }
        const auto numbering = numbering_in(body).value_or(visits.usual_numbering());
        return the_visit(visits, visits.open(teeth_in(body).value_or(std::vector<chart::Tooth>{}), numbering));
    });
    router.add("GET", "/api/visits/:", [&](const HttpRequest&, const PathParts& parts) {
        return the_visit(visits, visit_of(parts[0]));
    });
    router.add("POST", "/api/visits/:/discard", [&](const HttpRequest&, const PathParts& parts) {
        visits.discard(visit_of(parts[0]));
        return json_reply(R"({"discarded":true})");
    });
    /// Most changes look alike: read the body, change, answer with the visit as it now stands.
    const auto change = [&](std::string_view method, std::string_view pattern,
                            std::function<void(visit::VisitId, const PathParts&, const Json&)> apply) {
        router.add(method, pattern,
                   [&visits, apply = std::move(apply)](const HttpRequest& request, const PathParts& parts) {
                       const visit::VisitId id = visit_of(parts[0]);
                       apply(id, parts, body_of(request));
                       return the_visit(visits, id);
                   });
    };
    change("POST", "/api/visits/:/looks",
           [&](visit::VisitId id, const PathParts&, const Json& body) { visits.begin_look(id, kind_in(body)); });
    change("PUT", "/api/visits/:/looks/:/holds", [&](visit::VisitId id, const PathParts& parts, const Json& body) {
        visits.set_holds(id, look_of(parts[1]), text_in(body, "chart").value_or(""));
    });
    change("PUT", "/api/visits/:/looks/:/marks", [&](visit::VisitId id, const PathParts& parts, const Json& body) {
        visits.set_marks(id, look_of(parts[1]), text_in(body, "chart").value_or(""));
    });
    change("POST", "/api/visits/:/details", [&](visit::VisitId id, const PathParts&, const Json& body) {
        visits.set_details(id, {.label = text_in(body, "label"),
                                .clinician = text_in(body, "clinician"),
                                .procedure = text_in(body, "procedure"),
                                .supervisor = text_in(body, "supervisor"),
                                .numbering = numbering_in(body),
                                .teeth = teeth_in(body)});
    });
    change("POST", "/api/visits/:/patient",
           [&](visit::VisitId id, const PathParts&, const Json& body) { visits.set_patient(id, says_in(body)); });
    change("POST", "/api/visits/:/crossbite", [&](visit::VisitId id, const PathParts&, const Json& body) {
        visits.set_crossbite(id, text_in(body, "teeth").value_or(""));
    });
    change("POST", "/api/visits/:/warning", [&](visit::VisitId id, const PathParts&, const Json& body) {
        visits.warn(id, {text_in(body, "about").value_or(""), text_in(body, "raisedWith").value_or(""),
                         text_in(body, "decided").value_or("")});
    });
    change("POST", "/api/visits/:/decision", [&](visit::VisitId id, const PathParts&, const Json& body) {
        const auto action = visit::action_from(text_in(body, "action").value_or(""));
        if (!action) {
            throw InputError("There is no such decision.");
        }
        visits.decide(id, *action, text_in(body, "words").value_or(""));
    });
    change("POST", "/api/visits/:/undo", [&](visit::VisitId id, const PathParts&, const Json&) { visits.undo(id); });
    change("POST", "/api/visits/:/sign", [&](visit::VisitId id, const PathParts&, const Json& body) {
        visits.sign(id, text_in(body, "name").value_or(""), text_in(body, "role").value_or(""),
                    text_in(body, "comment").value_or(""));
    });
}

} // namespace retap::chairside
