// The chairside server with a played pick-up, for the browser tests:
//   page_server STORE SPEED SOUND...
// Prints the opening address and serves until its standard input closes. Keeps its address and secrets beside the store
// as retap chairside does, so that killing it and starting it again is what it is there.
#include "chairside/chairside_server.hpp"
#include "chairside/instance_lock.hpp"
#include "error.hpp"
#include "played_recorder.hpp"
#include "visit/sqlite_store.hpp"

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
        const auto left = lock.published();
        const chairside::ChairsideServer server(
            {.port = left.port,
             .take_folder = store.string() + ".takes",
             .listening_results = std::filesystem::path(store).replace_filename("listening.csv"),
             .good_taps = 8,
             .program = "Retap test",
             .resume = left.secrets},
            std::make_unique<visit::SqliteStore>(store),
            test::played_recorder({.sounds = {argv + 3, argv + argc}, .speed = std::atof(argv[2])}));
        lock.publish({server.opening_address(), server.port(), server.secrets()});
        std::cout << server.opening_address() << std::endl;
        std::string line;
        while (std::getline(std::cin, line)) {
        }
        return 0;
    } catch (const Error& error) {
        std::cerr << error.what() << '\n';
        return error.exit_code();
    }
}
