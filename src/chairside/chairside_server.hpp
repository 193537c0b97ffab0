// The chairside server: store, recorder, events and page under one roof.
#pragma once

#include "chairside/recording_desk.hpp"
#include "chairside/take_recorder.hpp"
#include "visit/defaults.hpp"
#include "visit/store.hpp"

#include <chrono>
#include <cstddef>
#include <filesystem>
#include <memory>
#include <string>

namespace retap::chairside {

struct ChairsideSettings {
    int port = 0;                            ///< 0: any free one
    std::filesystem::path take_folder;       ///< where takes lie while they are recorded; made private
    std::filesystem::path listening_results; ///< what learners reach in listening tests is added here
    std::size_t good_taps = 8;
    visit::Defaults defaults{};        ///< filled in when a visit is opened
    std::string program;               ///< "Retap 0.1.0"
    std::filesystem::path door_folder; ///< where tokens lie that open it; made private
};

class ChairsideServer {
public:
    /// Serves at once. Throws DeviceError when the port cannot be had.
    ChairsideServer(const ChairsideSettings& settings, std::unique_ptr<visit::VisitStore> store,
                    std::unique_ptr<TakeRecorder> recorder);
    /// Ends a running take (it is kept), tells the pages, stops serving.
    ~ChairsideServer();
    ChairsideServer(const ChairsideServer&) = delete;
    ChairsideServer& operator=(const ChairsideServer&) = delete;

    /// Opens the page once, and no longer than this.
    [[nodiscard]] std::string opening_address(std::chrono::seconds life);
    [[nodiscard]] int port() const;
    /// Takes that a killed program left behind.
    [[nodiscard]] const RecoveredTakes& recovered() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::chairside
