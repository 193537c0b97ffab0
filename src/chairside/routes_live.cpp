#include "chairside/routes.hpp"

#include "audio/tapping_cautions.hpp"
#include "error.hpp"

#include <algorithm>
#include <optional>

namespace retap::chairside {

using report::Json;

namespace {

constexpr std::size_t most_taps = 30; // more of them tire a patient and say little more

HttpReply short_json(const Json& json) {
    return json_reply(report::json_text(json, report::JsonLayout::one_line));
}

} // namespace

void add_live_routes(Router& router, VisitDesk& visits, RecordingDesk& recording, EventHub& events,
                     const std::string& program) {
    router.add("GET", "/api/events", [&](const HttpRequest&, const PathParts&) {
        HttpReply reply;
        reply.media_type = "text/event-stream";
        reply.stream = events.listen();
        return reply.stream ? reply : text_reply(503, "Retap is stopping.");
    });
    router.add("GET", "/api/state", [&visits, &recording, program](const HttpRequest&, const PathParts&) {
        const std::string trouble = visits.trouble();
        return short_json({{"program", program},
                           {"numbering", chart::word(visits.usual_numbering())},
                           {"readOnly", trouble.empty() ? Json(nullptr) : Json(trouble)},
                           {"recording", recording.live()}});
    });
    router.add("GET", "/api/cautions", [](const HttpRequest&, const PathParts&) {
        return short_json({{"tapping", audio::tapping_cautions}});
    });
    router.add("GET", "/api/devices",
               [&](const HttpRequest&, const PathParts&) { return short_json(recording.devices()); });
    router.add("PUT", "/api/devices", [&](const HttpRequest& request, const PathParts&) {
        const Json body = body_of(request);
        const auto device = body.find("device");
        if (device == body.end() || !device->is_string()) {
            throw InputError("It is not said which device.");
        }
        recording.choose(device->get<std::string>());
        return short_json(recording.devices());
    });
    router.add("POST", "/api/record/start", [&](const HttpRequest& request, const PathParts&) {
        const Json body = body_of(request);
        const auto visit = body.find("visit");
        const auto look = body.find("look");
        if (visit == body.end() || look == body.end() || !visit->is_string() || !look->is_string()) {
            throw InputError("It is not said which visit and look the take is for.");
        }
        const auto taps = body.find("taps");
        std::optional<std::size_t> wanted;
        if (taps != body.end() && taps->is_number_unsigned()) {
            wanted = std::min<std::size_t>(taps->get<std::size_t>(), most_taps);
        }
        recording.start(visit_of(visit->get<std::string>()), look_of(look->get<std::string>()), wanted);
        return short_json({{"recording", recording.live()}});
    });
    router.add("POST", "/api/record/stop", [&](const HttpRequest& request, const PathParts&) {
        const Json body = body_of(request);
        const auto keep = body.find("keep");
        recording.stop(keep == body.end() || !keep->is_boolean() || keep->get<bool>());
        return short_json({{"recording", nullptr}});
    });
}

} // namespace retap::chairside
