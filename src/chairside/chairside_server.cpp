#include "chairside/chairside_server.hpp"

#include "chairside/doors.hpp"
#include "chairside/gate.hpp"
#include "chairside/http_server.hpp"
#include "chairside/routes.hpp"
#include "error.hpp"

#include <string_view>
#include <system_error>

namespace retap::chairside {

namespace {

std::filesystem::path private_folder(const std::filesystem::path& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (!error) {
        std::filesystem::permissions(folder, std::filesystem::perms::owner_all, error);
    }
    if (error) {
        throw StoreError("Making the folder for takes, " + folder.string() + ": " + error.message() + ".");
    }
    return std::filesystem::absolute(folder);
}

} // namespace

struct ChairsideServer::State {
    State(const ChairsideSettings& settings, std::unique_ptr<visit::VisitStore> store,
          std::unique_ptr<TakeRecorder> recorder)
        : http(settings.port), doors(settings.door_folder),
          gate(http.port(), [this](std::string_view token) { return doors.open(token); }),
          visits(
              std::move(store), [] { return std::chrono::system_clock::now(); },
              [this](visit::VisitId id) { events.publish("visit", std::to_string(id)); }),
          recording(visits, events, std::move(recorder), private_folder(settings.take_folder), settings.good_taps),
          hearing(settings.listening_results), recovered(recording.recover()) {
        doors.clear(); // what a killed server left opens nothing
        visits.set_defaults(settings.defaults);
        add_page_routes(router);
        add_visit_routes(router, visits);
        add_sound_routes(router, visits, settings.program);
        add_live_routes(router, visits, recording, events, settings.program);
        add_learn_routes(router, lessons, hearing);
        http.start({[this](const HttpRequest& head) { return gate.stops(head); },
                    [this](const HttpRequest& request) { return router.answer(request); }});
    }
    ~State() {
        recording.stop(true);
        events.close();
        http.stop();
        doors.clear();
    }
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    EventHub events; // first, since the others tell it things
    HttpServer http;
    Doors doors;
    Gate gate;
    VisitDesk visits;
    RecordingDesk recording;
    LessonShelf lessons;
    HearingDesk hearing;
    RecoveredTakes recovered;
    Router router;
};

ChairsideServer::ChairsideServer(const ChairsideSettings& settings, std::unique_ptr<visit::VisitStore> store,
                                 std::unique_ptr<TakeRecorder> recorder)
    : state_(std::make_unique<State>(settings, std::move(store), std::move(recorder))) {}

ChairsideServer::~ChairsideServer() = default;

std::string ChairsideServer::opening_address(std::chrono::seconds life) {
    return chairside::opening_address(port(), state_->doors.make(life));
}

int ChairsideServer::port() const {
    return state_->http.port();
}

const RecoveredTakes& ChairsideServer::recovered() const {
    return state_->recovered;
}

} // namespace retap::chairside
