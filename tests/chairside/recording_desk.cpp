#include "chairside/recording_desk.hpp"

#include "audio/sound_file.hpp"
#include "audio/take_recording.hpp"
#include "chairside/left_takes.hpp"
#include "chart/notation.hpp"
#include "error.hpp"
#include "paths.hpp"
#include "played_recorder.hpp"
#include "temp_folder.hpp"
#include "visit/invented_visit.hpp"
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
using test::before;

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

    /// As a recording leaves it whose program is killed just when its take is whole.
    [[nodiscard]] std::filesystem::path leave_take() const {
        const auto file = folder / chairside::take_file_name(id, {visit::LookKind::before, 1}, a_while_ago);
        const audio::Sound sound = audio::read_sound(std::filesystem::path(demo()));
        audio::TakeRecording recording({sound.sample_rate_hz, sound.channels}, {.good_taps = 8},
                                       {.destination = file, .journal_folder = folder.path(), .device = "Pick-up"});
        recording.block(sound.interleaved);
        recording.end(audio::EndedBy::stopped);
        REQUIRE(recording.finish({}).take.has_value());
        return file;
    }
    [[nodiscard]] std::size_t takes() { return visits.visit(id)["looks"][0]["takes"].size(); }

    static std::string demo() { return test::source_dir() + "/recordings/before.flac"; }
    static constexpr chairside::Moment a_while_ago{std::chrono::seconds(1900000000)};

    test::TempFolder folder;
    chairside::VisitDesk visits{std::make_unique<visit::SqliteStore>(folder / "visits.db"),
                                [] { return std::chrono::system_clock::now(); }, [](visit::VisitId) {}};
    chairside::EventHub events;
    chairside::RecordingDesk desk;
    visit::VisitId id = visits.open(chart::read_teeth("16", chart::Numbering::iso), chart::Numbering::iso);
};

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

TEST_CASE("A whole take that a killed program left is put into its visit at the next start, once") {
    Room room({demo_take});
    const auto file = room.leave_take();
    const std::string whole = test::bytes_of(file);
    CHECK(room.desk.recover().kept == 1);
    CHECK(room.takes() == 1);
    CHECK(room.recordings_left() == 0);
    // Killed once more, between the visit's knowing of it and the file's going:
    test::put_bytes(file, whole);
    const auto again = room.desk.recover();
    CHECK(again.kept == 0);
    CHECK(again.waiting.empty());
    CHECK(room.takes() == 1);
    CHECK(room.recordings_left() == 0);
}

TEST_CASE("A journal that comes back after its take reached the visit does not double it") {
    Room room({demo_take});
    const auto file = room.leave_take();
    const auto note = audio::read_note(audio::SoundReader(file).comment());
    REQUIRE(note.has_value());
    REQUIRE(room.desk.recover().kept == 1);
    {
        audio::JournalWriter journal(
            room.folder / "back.journal",
            {.take_id = note->take_id, .destination = file, .format = {48000.0, 1}, .device = {}, .started = {}});
        const audio::Sound sound = audio::read_sound(std::filesystem::path(demo_take));
        journal.samples(0, sound.interleaved);
    }
    CHECK(room.desk.recover().kept == 0);
    CHECK(room.takes() == 1);
    CHECK(room.recordings_left() == 0);
}

TEST_CASE("A take whose visit is signed or gone is told of and stays") {
    Room room({demo_take});
    const auto file = room.leave_take();
    const auto lost = room.folder / "visit-77-before-20310514T083207Z.flac";
    std::filesystem::copy_file(file, lost);
    room.visits.set_holds(room.id, before, "hold 16");
    room.visits.sign(room.id, "A. Supervisor", "supervisor", "");
    const auto found = room.desk.recover();
    CHECK(found.kept == 0);
    REQUIRE(found.waiting.size() == 2);
    CHECK(found.waiting[0].find(file.string()) != std::string::npos);
    CHECK(found.waiting[1].find(lost.string()) != std::string::npos);
    CHECK(std::filesystem::exists(file));
    CHECK(std::filesystem::exists(lost));
}

TEST_CASE("A take that nobody wanted does not come back when the program is killed before it is gone") {
    Room room({demo_take});
    const auto file = room.leave_take();
    chairside::mark_unwanted(file);
    CHECK(room.desk.recover().kept == 0);
    CHECK(room.recordings_left() == 0);
}

TEST_CASE("What is swept for an erased visit is its own: takes, half-written files and journals") {
    Room room({demo_take});
    const auto file = room.leave_take();
    test::put_bytes(room.folder / ("." + file.filename().string() + ".aB3xYz"), "half-written");
    { const audio::JournalWriter journal(room.folder / "its.journal", {.destination = file, .format = {48000.0, 1}}); }
    const auto other = room.folder / "visit-77-before-20310514T083207Z.flac";
    test::put_bytes(other, "another's");
    CHECK(chairside::remove_takes_of(room.folder.path(), room.id) == 3);
    CHECK(room.recordings_left() == 1);
    CHECK(std::filesystem::exists(other));
}

TEST_CASE("A look whose recording was stopped and not kept is there no longer") {
    Room room({demo_take});
    const visit::LookName after{visit::LookKind::after, 1};
    room.visits.begin_look(room.id, visit::LookKind::after);
    REQUIRE(room.visits.visit(room.id).at("looks").size() == 2);
    room.desk.start(room.id, after);
    room.desk.stop(false);
    CHECK(room.visits.visit(room.id).at("looks").size() == 1);
}

TEST_CASE("More taps than usual are waited for when they are asked for, and never fewer") {
    Room room({"silence", "silence"}); // goes on until it is stopped
    const auto wanted = [&](std::size_t taps) {
        room.desk.start(room.id, before, taps);
        Json said = 0;
        while (said == 0) { // nothing is told before the first block
            std::this_thread::sleep_for(a_moment);
            said = room.desk.live().at("wanted");
        }
        room.desk.stop(false);
        return said;
    };
    CHECK(wanted(12) == 12);
    CHECK(wanted(2) == 8);
}
