#include "chairside/recording_desk.hpp"

#include "chart/notation.hpp"
#include "error.hpp"
#include "paths.hpp"
#include "played_recorder.hpp"
#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <filesystem>
#include <memory>
#include <string>
#include <thread>
#include <vector>

using namespace retap;
using report::Json;

namespace {

constexpr std::chrono::milliseconds a_moment{20};
constexpr double fast = 50.0; // times real time

struct Room {
    explicit Room(std::vector<std::string> sounds)
        : desk(visits, events, test::played_recorder({.sounds = std::move(sounds), .speed = fast}), folder.path(), 8) {}

    /// Records one take to its end.
    void record(const visit::LookName& look) {
        desk.start(id, look);
        constexpr int patience = 1500; // half a minute for seconds of sound at 50 times their pace
        int moments = 0;
        while (!desk.live().is_null() && moments < patience) {
            std::this_thread::sleep_for(a_moment);
            ++moments;
        }
        REQUIRE(moments < patience);
    }

    /// Files of takes, and journals of takes that are being recorded.
    [[nodiscard]] std::ptrdiff_t recordings_left() const {
        return std::count_if(std::filesystem::directory_iterator(folder.path()), {}, [](const auto& entry) {
            return !entry.path().filename().string().starts_with("visits.db");
        });
    }

    test::TempFolder folder;
    chairside::VisitDesk visits{std::make_unique<visit::SqliteStore>(folder / "visits.db"),
                                [] { return std::chrono::system_clock::now(); }, [](visit::VisitId) {}};
    chairside::EventHub events;
    chairside::RecordingDesk desk;
    visit::VisitId id = visits.open(chart::read_teeth("16", chart::Numbering::iso), chart::Numbering::iso);
};

const visit::LookName before{visit::LookKind::before, 1};
const std::string demo_take = test::source_dir() + "/recordings/before.flac";

} // namespace

TEST_CASE("Inputs are told with the one that is used, and what is wrong when there is none") {
    Room room({demo_take});
    CHECK(room.desk.devices() ==
          Json({{"devices", {"Test pick-up"}}, {"chosen", "Test pick-up"}, {"trouble", nullptr}}));
    Room bare({"none"});
    const Json none = bare.desk.devices();
    CHECK(none["devices"].empty());
    CHECK(none["chosen"] == "");
    CHECK(none["trouble"] == "No sound input is there. Plug the pick-up in.");
    CHECK_THROWS_AS(room.desk.choose("another"), DeviceError);
}

TEST_CASE("A take that was recorded is in its visit, and its file is gone") {
    Room room({demo_take});
    room.record(before);
    const Json visit = room.visits.visit(room.id);
    REQUIRE(visit["looks"][0]["takes"].size() == 1);
    CHECK(visit["looks"][0]["takes"][0]["usable"] == true);
    CHECK(room.recordings_left() == 0);
}

TEST_CASE("A take that is stopped and not wanted leaves nothing") {
    Room room({demo_take});
    room.desk.start(room.id, before);
    CHECK_THROWS_AS(room.desk.start(room.id, before), InputError);
    CHECK_THROWS_AS(room.desk.choose("Test pick-up"), InputError);
    room.desk.stop(false);
    CHECK(room.desk.live().is_null());
    CHECK(room.visits.visit(room.id)["looks"][0]["takes"].empty());
    CHECK(room.recordings_left() == 0);
}
