// Records one take into a visit as the chairside server does, from a sound file instead of a pick-up, for the trials
// that stop it half way:
//   record_once STORE VISIT [SOUND]
// Puts into the visit what earlier runs left, then records SOUND when there is one. Prints how many takes the visit has
// and how many recordings wait beside it.
#include "chairside/event_hub.hpp"
#include "chairside/left_takes.hpp"
#include "chairside/recording_desk.hpp"
#include "error.hpp"
#include "played_recorder.hpp"
#include "visit/sqlite_store.hpp"

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <thread>

int main(int argc, char** argv) {
    using namespace retap;
    if (argc < 3) {
        std::cerr << "usage: record_once STORE VISIT [SOUND]\n";
        return 2;
    }
    try {
        const std::filesystem::path store = argv[1];
        const visit::VisitId id = std::atoi(argv[2]);
        const std::filesystem::path folder = chairside::take_folder(store);
        std::filesystem::create_directory(folder);
        chairside::EventHub events;
        chairside::VisitDesk visits(
            std::make_unique<visit::SqliteStore>(store), [] { return std::chrono::system_clock::now(); },
            [](visit::VisitId) {});
        constexpr double at_once = 1e6; // times real time
        chairside::RecordingDesk desk(
            visits, events, test::played_recorder({.sounds = {argc > 3 ? argv[3] : "none"}, .speed = at_once}), folder,
            8);
        const std::size_t waiting = desk.recover().waiting.size();
        if (argc > 3) {
            desk.start(id, {visit::LookKind::before, 1});
            while (!desk.live().is_null()) {
                std::this_thread::sleep_for(std::chrono::milliseconds(5));
            }
        }
        std::cout << visits.visit(id)["looks"][0]["takes"].size() << ' ' << waiting << '\n';
        return 0;
    } catch (const Error& error) {
        std::cerr << error.what() << '\n';
        return error.exit_code();
    }
}
