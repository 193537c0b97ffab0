// retap chairside: the page for the operatory.
#include "command_line.hpp"

#include "chairside/chairside_server.hpp"
#include "chairside/doors.hpp"
#include "chairside/instance_lock.hpp"
#include "chairside/left_takes.hpp"
#include "device_options.hpp"
#include "error.hpp"
#include "outputs.hpp"
#include "stop_signals.hpp"
#include "terminal.hpp"
#include "visit/defaults.hpp"
#include "visit/open_store.hpp"
#include "visit/sqlite_store.hpp"
#include "visit/store_place.hpp"

#include <chrono>
#include <cstdlib>
#include <fcntl.h>
#include <iostream>
#include <memory>
#include <optional>
#include <spawn.h>
#include <string>
#include <thread>

// NOLINTNEXTLINE(readability-redundant-declaration): POSIX leaves declaring it to the program
extern char** environ;

namespace retap::commands {

namespace {

struct ChairsideOptions {
    std::string store;
    int port = 0;
    std::optional<std::string> device;
    int channels = 1;
    std::size_t taps = 8;
    bool no_browser = false;
};

constexpr std::chrono::seconds printed_life{120}; // for somebody who has to find a browser and paste it
constexpr std::chrono::seconds opened_life{30};   // for a browser that is slow to start

/// Hands a page that leads to the address to the desktop, if there is one: the list of processes shows what a program
/// was called with to every user. Not being able to is no error: an address is printed.
void open_browser(const std::string& page) {
    if (std::getenv("DISPLAY") == nullptr && std::getenv("WAYLAND_DISPLAY") == nullptr) {
        return;
    }
    std::string program = "xdg-open";
    std::string argument = page;
    char* arguments[] = {program.data(), argument.data(), nullptr};
    posix_spawn_file_actions_t quiet;
    posix_spawn_file_actions_init(&quiet);
    posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    (void)posix_spawnp(&child, program.c_str(), &quiet, nullptr, arguments, environ);
    posix_spawn_file_actions_destroy(&quiet);
}

void say(const std::string& address) {
    std::cout
        << "Retap listens on this computer only. Open this address in a browser here:\n\n  " << address
        << "\n\nIt works once, within two minutes; for another one run the same command again while this one goes "
           "on. Press Ctrl+C to stop; everything that was kept stays."
        << std::endl;
}

visit::Defaults usual() {
    const auto file = visit::defaults_file();
    return file ? visit::read_defaults(*file) : visit::Defaults();
}

/// The port of a killed server is wanted, not needed.
std::unique_ptr<chairside::ChairsideServer>
serve(const ChairsideOptions& options, chairside::ChairsideSettings settings, const std::filesystem::path& store) {
    const auto start = [&] {
        return std::make_unique<chairside::ChairsideServer>(
            settings, std::make_unique<visit::SqliteStore>(store),
            chairside::device_recorder(options.device, options.channels));
    };
    if (settings.port == 0 || options.port != 0) {
        return start();
    }
    try {
        return start();
    } catch (const DeviceError&) {
        settings.port = 0;
        return start();
    }
}

void run_chairside(const ChairsideOptions& options) {
#ifndef RETAP_WITH_PAGE
    throw UsageError("This retap was built without its page. Build it with -DRETAP_PAGE=ON, which needs Node and npm. "
                     "Without the page, retap record and retap visit do the same from the terminal.");
#endif
    write_privately();
    const std::filesystem::path store = visit::store_file(options.store);
    if (visit::is_server(store.string())) {
        throw UsageError(
            "The page works on a store in a file beside the chair, so that it never waits for the network. "
            "Leave --store out or give a file.");
    }
    visit::make_private(store);
    chairside::InstanceLock lock(store);
    const std::filesystem::path door_folder = chairside::door_folder(store);
    if (!lock.held()) {
        chairside::Doors doors(door_folder);
        const auto address = [&](std::chrono::seconds life) {
            return chairside::opening_address(lock.port(), doors.make(life));
        };
        std::cout << "Retap is open already for this store:\n\n  " << address(printed_life)
                  << "\n\nThis address works once, within two minutes." << std::endl;
        if (!options.no_browser) {
            open_browser(doors.page_to(address(opened_life)));
        }
        return;
    }
    const StopSignals signals;
    const auto server = serve(options,
                              {.port = options.port != 0 ? options.port : lock.port(),
                               .take_folder = chairside::take_folder(store),
                               .listening_results = std::filesystem::path(store).replace_filename("listening.csv"),
                               .good_taps = options.taps,
                               .defaults = usual(),
                               .program = "Retap " RETAP_VERSION,
                               .door_folder = door_folder},
                              store);
    lock.publish(server->port());
    if (const std::size_t kept = server->recovered().kept; kept > 0) {
        std::cout << "Takes that were being recorded when Retap was stopped last time were kept: " << kept << ".\n";
    }
    for (const std::string& waiting : server->recovered().waiting) {
        warn(waiting);
    }
    say(server->opening_address(printed_life));
    if (!options.no_browser) {
        open_browser(chairside::Doors(door_folder).page_to(server->opening_address(opened_life)));
    }
    while (!StopSignals::asked()) {
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
    }
    std::cout << "\nStopping." << std::endl;
}

} // namespace

void add_chairside(Command program) {
    auto options = std::make_shared<ChairsideOptions>();
    Command command = program.subcommand("chairside", "Open the page for the operatory");
    command.option("--store", options->store, "The file that visits are kept in").type_name("FILE");
    command.option("--port", options->port, "Listen on this port of this computer (default: any free one)")
        .within(1, 65535)
        .type_name("N");
    add_device_option(command, options->device);
    command.option("--channels", options->channels, "1, or 2 for a pick-up on each side").within(1, 2);
    command.option("--taps", options->taps, "Good taps in a take (default 8)").within(3, 50);
    command.flag("--no-browser", options->no_browser, "Only print the address");
    command.when_run([options] { run_chairside(*options); });
}

} // namespace retap::commands
