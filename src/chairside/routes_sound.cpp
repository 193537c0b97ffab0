#include "chairside/routes.hpp"

#include "chairside/clock_words.hpp"
#include "chairside/upload.hpp"
#include "error.hpp"
#include "lesson/own.hpp"
#include "report/html_sections.hpp"
#include "report/staircase.hpp"
#include "report/tap_picture.hpp"
#include "report/visit_json.hpp"
#include "report/visit_report.hpp"

#include <charconv>
#include <cmath>
#include <optional>

namespace retap::chairside {

using report::Json;

namespace {

int entry_of(const std::string& part) {
    int entry = 0;
    const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), entry);
    if (error != std::errc() || end != part.data() + part.size() || entry < 1) {
        throw InputError("There is no such take.");
    }
    return entry;
}

std::string sound_path(visit::VisitId visit, int entry) {
    return "/api/visits/" + std::to_string(visit) + "/takes/" + std::to_string(entry) + "/sound";
}

const visit::LookName baseline_look{visit::LookKind::before, 1};

/// A number of the query; `otherwise` when it is not there or is none.
double number_in(const HttpRequest& request, std::string_view name, double otherwise) {
    const std::string text(request.query_value(name));
    double value = otherwise;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() && std::isfinite(value) ? value : otherwise;
}

/// The drawing of a range, and where in each sound the main impact of a usual tap stands, for slow motion.
Json picture_json(const compare::Comparison& comparison, const report::PictureRange& range) {
    const report::TapPicture picture = report::picture_of(comparison);
    const report::PictureRange shown = report::inside(range);
    return {{"svg", report::draw(picture, shown)},
            {"from", shown.from_ms},
            {"to", shown.to_ms},
            {"beforeAt", picture.before.example_s},
            {"afterAt", picture.after.example_s}};
}

/// Nothing with fewer than two takes that are fit.
std::string repeatability_of(VisitDesk& visits, visit::VisitId id, const visit::LookName& name) {
    std::vector<int> entries;
    visits.with_store([&](visit::VisitStore& store) {
        const visit::Visit visit = store.load(id);
        if (const visit::Look* look = visit.look(name); look != nullptr) {
            for (const auto& take : look->takes) {
                entries.push_back(take.entry);
            }
        }
    });
    std::vector<dsp::TakeAnalysis> takes;
    for (const int entry : entries) {
        if (const SharedAnalysis take = visits.analysis(id, entry); take->fitness.usable) {
            takes.push_back(*take);
        }
    }
    return takes.size() < 2 ? std::string() : lesson::own_section(takes);
}

HttpReply flac_reply(const std::vector<std::byte>& flac) {
    HttpReply reply;
    reply.media_type = "audio/flac";
    reply.body.reserve(flac.size());
    for (const std::byte byte : flac) {
        reply.body += static_cast<char>(byte);
    }
    return reply;
}

/// The visit as a file, as `retap visit report` writes it.
std::string report_of(VisitDesk& visits, visit::VisitId id, const std::string& program) {
    visit::Visit visit;
    visits.with_store([&](visit::VisitStore& store) { visit = store.load(id); });
    const report::VisitTakes takes{
        .flac = [&](const visit::Look& look) { return visits.take_content(id, visits.shown_take(id, look.name)).flac; },
        .comparison = [&](const visit::Look& look) { return *visits.comparison(id, look.name); }};
    return report::visit_report(visit, report::look_sounds(visit, takes),
                                report::visit_heading(visit, utc_text(std::chrono::system_clock::now()), program));
}

} // namespace

void add_sound_routes(Router& router, VisitDesk& visits, const std::string& program) {
    router.add("POST", "/api/visits/:/looks/:/takes/upload", [&](const HttpRequest& request, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        const visit::LookName look = look_of(parts[1]);
        visits.keep_take(id, look, uploaded_take(request.query_value("name"), request.body));
        return json_reply(report::json_text(visits.visit(id), report::JsonLayout::one_line));
    });
    router.add("GET", "/api/visits/:/takes/:", [&](const HttpRequest&, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        const int entry = entry_of(parts[1]);
        return html_reply(report::take_section(*visits.analysis(id, entry), sound_path(id, entry)));
    });
    router.add("DELETE", "/api/visits/:/takes/:", [&](const HttpRequest&, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        visits.take_back(id, entry_of(parts[1]));
        return json_reply(report::json_text(visits.visit(id), report::JsonLayout::one_line));
    });
    router.add("GET", "/api/visits/:/takes/:/sound", [&](const HttpRequest&, const PathParts& parts) {
        return flac_reply(visits.take_content(visit_of(parts[0]), entry_of(parts[1])).flac);
    });
    router.add("GET", "/api/visits/:/looks/:/comparison", [&](const HttpRequest&, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        const visit::LookName look = look_of(parts[1]);
        const SharedComparison comparison = visits.comparison(id, look);
        return html_reply(report::comparison_section(*comparison, {sound_path(id, visits.shown_take(id, baseline_look)),
                                                                   sound_path(id, visits.shown_take(id, look))}) +
                          report::cautions_section());
    });
    router.add("GET", "/api/visits/:/looks/:/repeatability", [&](const HttpRequest&, const PathParts& parts) {
        return html_reply(repeatability_of(visits, visit_of(parts[0]), look_of(parts[1])));
    });
    router.add("GET", "/api/visits/:/looks/:/picture", [&](const HttpRequest& request, const PathParts& parts) {
        const SharedComparison comparison = visits.comparison(visit_of(parts[0]), look_of(parts[1]));
        const report::PictureRange usual;
        return json_reply(report::json_text(picture_json(*comparison, {number_in(request, "from", usual.from_ms),
                                                                       number_in(request, "to", usual.to_ms)}),
                                            report::JsonLayout::one_line));
    });
    router.add("GET", "/api/visits/:/charts", [&](const HttpRequest&, const PathParts& parts) {
        visit::Visit visit;
        visits.with_store([&](visit::VisitStore& store) { visit = store.load(visit_of(parts[0])); });
        return html_reply(report::tooth_charts(visit, report::ChartsOf::ends));
    });
    router.add("GET", "/api/visits/:/staircase", [&](const HttpRequest&, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        visit::Visit visit;
        visits.with_store([&](visit::VisitStore& store) { visit = store.load(id); });
        return html_reply(report::staircase(report::stair_steps(
            visit, [&](const visit::Look& look) { return std::optional(*visits.comparison(id, look.name)); })));
    });
    router.add("GET", "/api/visits/:/export", [&](const HttpRequest&, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        HttpReply reply;
        visits.with_store([&](visit::VisitStore& store) {
            reply = json_reply(report::json_text(report::export_json(store.load(id), store.pack(id))));
        });
        reply.headers = {{"Content-Disposition", "attachment; filename=\"retap-visit-" + parts[0] + ".json\""}};
        return reply;
    });
    router.add("GET", "/api/visits/:/report", [&visits, program](const HttpRequest& request, const PathParts& parts) {
        const visit::VisitId id = visit_of(parts[0]);
        HttpReply reply = html_reply(report_of(visits, id, program));
        if (request.query_value("save").empty()) {
            return reply;
        }
        reply.headers = {{"Content-Disposition", "attachment; filename=\"retap-visit-" + parts[0] + ".html\""}};
        return reply;
    });
}

} // namespace retap::chairside
