// The chairside server with a played pick-up, for the browser tests:
//   page_server STORE SPEED SOUND...
// Prints an opening address, one more for each line of its standard input, and serves until that closes. Keeps its port
// beside the store as retap chairside does, so that killing it and starting it again is what it is there.
#include "chairside/chairside_server.hpp"
#include "chairside/doors.hpp"
#include "chairside/instance_lock.hpp"
#include "error.hpp"
#include "played_recorder.hpp"
#include "visit/sqlite_store.hpp"

#include <chrono>
#include <cstdlib>
#include <iostream>
#include <string>

int main(int argc, char** argv) {
    using namespace retap;
    if (argc < 4) {
        std::cerr << "usage: page_server STORE SPEED SOUND...\n";
        return 2;
    }
    try {
        const std::filesystem::path store = argv[1];
        chairside::InstanceLock lock(store);
        constexpr std::chrono::seconds life{120};
        chairside::ChairsideServer server(
            {.port = lock.port(),
             .take_folder = store.string() + ".takes",
             .listening_results = std::filesystem::path(store).replace_filename("listening.csv"),
             .good_taps = 8,
             .program = "Retap test",
             .door_folder = chairside::door_folder(store)},
            std::make_unique<visit::SqliteStore>(store),
            test::played_recorder({.sounds = {argv + 3, argv + argc}, .speed = std::atof(argv[2])}));
        lock.publish(server.port());
        std::string line;
        do {
            std::cout << server.opening_address(life) << std::endl;
        } while (std::getline(std::cin, line));
        return 0;
    } catch (const Error& error) {
        std::cerr << error.what() << '\n';
        return error.exit_code();
    }
}
