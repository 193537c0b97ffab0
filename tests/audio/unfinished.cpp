#include "audio/unfinished.hpp"

#include "aside_file.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"
#include "made_journal.hpp"
#include "temp_folder.hpp"

#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;
namespace fs = std::filesystem;

namespace {

void leave_behind(const fs::path& journal, const JournalHead& head, const std::vector<float>& samples) {
    JournalWriter writer(journal, head);
    writer.samples(0, samples);
    writer.tap(0);
}

} // namespace

TEST_CASE("an interrupted recording is found, recovered to where it was meant to go, and then gone from the list") {
    const TempFolder folder;
    const auto samples = exact_samples(4410);
    leave_behind(folder / "a.journal", head_for(folder / "take.wav"), samples);
    const auto found = find_unfinished(folder.path());
    REQUIRE(found.takes.size() == 1);
    CHECK(found.takes[0].duration_s == doctest::Approx(0.1));
    const auto take = recover(found.takes[0], std::nullopt);
    REQUIRE(take.has_value());
    CHECK(take->file == folder / "take.wav");
    const Sound sound = read_sound(folder / "take.wav");
    CHECK(sound.interleaved == samples);
    CHECK(read_note(sound.comment)->recovered);
    CHECK(find_unfinished(folder.path()).takes.empty());
    CHECK(folder.entries() == 1);
    CHECK_FALSE(recover(found.takes[0], std::nullopt).has_value()); // a second helper comes too late
}

TEST_CASE("a torn journal is recovered up to its last whole record") {
    const TempFolder folder;
    const auto samples = exact_samples(300);
    {
        JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav"));
        for (std::size_t at = 0; at < 300; at += 100) {
            writer.samples(at, std::span(samples).subspan(at, 100));
            writer.tap(at);
        }
        writer.samples(300, samples);
    }
    fs::resize_file(folder / "a.journal", fs::file_size(folder / "a.journal") - 1);
    REQUIRE(recover(find_unfinished(folder.path()).takes.at(0), std::nullopt).has_value());
    CHECK(read_sound(folder / "take.wav").interleaved == samples);
}

TEST_CASE("a recording that still runs is left alone") {
    const TempFolder folder;
    JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav"));
    writer.samples(0, exact_samples(10));
    CHECK(find_unfinished(folder.path()).takes.empty());
    CHECK(fs::exists(folder / "a.journal"));
}

TEST_CASE("a take that was finished before its journal could be removed is not offered again") {
    const TempFolder folder;
    leave_behind(folder / "a.journal", head_for(folder / "take.wav"), exact_samples(10));
    const std::string journal = bytes_of(folder / "a.journal");
    REQUIRE(recover(find_unfinished(folder.path()).takes.at(0), std::nullopt).has_value());
    put_bytes(folder / "a.journal", journal);
    put_bytes(folder / ".take.wav.aB3xYz.retap-part", "half-written");
    CHECK(find_unfinished(folder.path()).takes.empty());
    CHECK(folder.entries() == 1);
}

TEST_CASE("what others keep beside a take stays, however it is called, and so does what is being written") {
    const TempFolder folder;
    leave_behind(folder / "a.journal", head_for(folder / "t.wav"), exact_samples(10));
    const std::vector<std::string> strangers = {".t.wav.backup", ".t.wav.aB3xYz", ".t.wav.retap-part",
                                                ".t.wav.aB3xYz.retap-part.old"};
    for (const std::string& name : strangers) {
        put_bytes(folder / name, "precious");
    }
    AsideFile being_written(folder / "t.wav");
    REQUIRE(recover(find_unfinished(folder.path()).takes.at(0), std::nullopt).has_value());
    for (const std::string& name : strangers) {
        CHECK(bytes_of(folder / name) == "precious");
    }
    being_written.commit();
    CHECK(folder.entries() == 5);
}

TEST_CASE("a damaged journal gives every block that is whole, says so in the take, and is kept") {
    const TempFolder folder;
    const auto samples = exact_samples(1000);
    {
        JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav"));
        for (std::size_t at = 0; at < 1000; at += 100) {
            writer.samples(at, std::span(samples).subspan(at, 100));
        }
        writer.tap(10);
    }
    std::string bytes = bytes_of(folder / "a.journal");
    constexpr std::size_t record = sizeof(journal_format::RecordHead) + 400;
    bytes[bytes.size() - sizeof(journal_format::RecordHead) - 7 * record - 30] ^= 4; // in the third block
    put_bytes(folder / "a.journal", bytes);
    const auto take = recover(find_unfinished(folder.path()).takes.at(0), std::nullopt);
    REQUIRE(take.has_value());
    std::vector<float> whole(samples.begin(), samples.begin() + 200);
    whole.insert(whole.end(), samples.begin() + 300, samples.end());
    const Sound sound = read_sound(folder / "take.wav");
    CHECK(sound.interleaved == whole);
    const auto note = read_note(sound.comment);
    REQUIRE(note.has_value());
    CHECK(note->joins == std::vector<Join>{{.at_frame = 200, .kind = Join::Kind::gap, .missing_frames = 100}});
    REQUIRE(note->warnings.size() == 1);
    CHECK(note->warnings[0].find("440 bytes in 1 place could not be read") != std::string::npos);
    CHECK(bytes_of(take->damaged_journal) == bytes);
    CHECK(find_unfinished(folder.path()).takes.empty()); // not offered again
    CHECK(folder.entries() == 2);
}

TEST_CASE("a journal that is damaged in its head, or has no whole block, is named and stays") {
    const TempFolder folder;
    leave_behind(folder / "a.journal", head_for(folder / "take.wav"), exact_samples(1000));
    const std::string bytes = bytes_of(folder / "a.journal");
    std::string longer = bytes;
    longer[10] ^= 1; // the length of its head
    put_bytes(folder / "a.journal", longer);
    std::string hollow = bytes;
    hollow[bytes.size() - 100] ^= 1;
    put_bytes(folder / "b.journal", hollow);
    const auto found = find_unfinished(folder.path());
    CHECK(found.takes.empty());
    CHECK(found.unreadable.size() == 2);
    CHECK(bytes_of(folder / "a.journal") == longer);
    CHECK(bytes_of(folder / "b.journal") == hollow);
}

TEST_CASE("a recording in which nothing but talk was heard leaves no take and no journal") {
    const TempFolder folder;
    { JournalWriter(folder / "a.journal", head_for(folder / "take.wav")).samples(0, std::vector<float>(4410)); }
    const auto found = find_unfinished(folder.path());
    REQUIRE(found.takes.size() == 1);
    CHECK_FALSE(recover(found.takes[0], std::nullopt).has_value());
    CHECK(folder.entries() == 0);
}

TEST_CASE("a name that is taken meanwhile is not written over; the recovered take gets one beside it") {
    const TempFolder folder;
    leave_behind(folder / "a.journal", head_for(folder / "take.wav", "cafe"), exact_samples(10, 1));
    leave_behind(folder / "b.journal", head_for(folder / "take.wav", "beef"), exact_samples(10, 2));
    put_bytes(folder / "take.wav", "precious");
    for (const auto& take : find_unfinished(folder.path()).takes) {
        REQUIRE(recover(take, std::nullopt).has_value());
    }
    CHECK(bytes_of(folder / "take.wav") == "precious");
    CHECK(fs::exists(folder / "take-recovered-1.wav"));
    CHECK(fs::exists(folder / "take-recovered-2.wav"));
    CHECK(folder.entries() == 3);
}

TEST_CASE("when the place is gone the journal stays, and another place can be named") {
    const TempFolder folder;
    const auto samples = exact_samples(10);
    leave_behind(folder / "a.journal", head_for(folder / "gone" / "take.wav"), samples);
    const auto found = find_unfinished(folder.path());
    CHECK_THROWS_AS(static_cast<void>(recover(found.takes.at(0), std::nullopt)), InputError);
    CHECK(fs::exists(folder / "a.journal"));
    REQUIRE(recover(found.takes.at(0), folder / "here.flac").has_value());
    CHECK(read_sound(folder / "here.flac").interleaved == samples);
}

TEST_CASE("journals without sound are cleared away and damaged ones are named, not touched") {
    const TempFolder folder;
    { const JournalWriter writer(folder / "silent.journal", head_for(folder / "take.wav")); }
    put_bytes(folder / "begun.journal", bytes_of(folder / "silent.journal").substr(0, 30));
    put_bytes(folder / "nothing.journal", "");
    std::string damaged = bytes_of(folder / "silent.journal");
    damaged[20] = '#';
    put_bytes(folder / "damaged.journal", damaged + std::string(5000, 'x'));
    put_bytes(folder / "notes.txt", "not ours");
    const auto found = find_unfinished(folder.path());
    CHECK(found.takes.empty());
    CHECK(found.unreadable == std::vector<fs::path>{folder / "damaged.journal"});
    CHECK(folder.entries() == 2);
}

TEST_CASE("the folder of running recordings follows the environment, and relative settings do not count") {
    // XDG Base Directory Specification: paths set there must be absolute, others are ignored.
    const char* set = std::getenv("HOME");
    const std::string home = set == nullptr ? "" : set;
    setenv("HOME", "/home/clinic", 1);
    setenv("XDG_STATE_HOME", "/var/state", 1);
    CHECK(unfinished_folder() == "/var/state/retap/unfinished");
    setenv("XDG_STATE_HOME", "state", 1);
    CHECK(unfinished_folder() == "/home/clinic/.local/state/retap/unfinished");
    unsetenv("XDG_STATE_HOME");
    CHECK(unfinished_folder() == "/home/clinic/.local/state/retap/unfinished");
    unsetenv("HOME");
    CHECK_THROWS_AS(static_cast<void>(unfinished_folder()), InputError);
    setenv("HOME", home.c_str(), 1);
}

TEST_CASE("a folder that is not there holds no unfinished takes") {
    CHECK(find_unfinished("/no/such/folder").takes.empty());
}
