// A small file system that fills up, under the journal and under the finished take.
#include "audio/inspect_file.hpp"
#include "audio/known_take.hpp"
#include "paths.hpp"
#include "program_recording.hpp"
#include "skipped.hpp"
#include "virtual_audio.hpp"

#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <sys/mount.h>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

namespace {

/// Memory mounted as a file system of so many bytes, for as long as it lives. Takes the rights to mount.
class SmallDisk {
public:
    SmallDisk(std::filesystem::path at, std::size_t bytes) : at_(std::move(at)) {
        std::filesystem::create_directories(at_);
        mounted_ = mount("none", at_.c_str(), "tmpfs", 0, ("size=" + std::to_string(bytes)).c_str()) == 0;
    }
    ~SmallDisk() {
        if (mounted_) {
            umount2(at_.c_str(), MNT_DETACH);
        }
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;

    [[nodiscard]] bool mounted() const { return mounted_; }
    void grow(std::size_t bytes) const {
        REQUIRE(mount("none", at_.c_str(), "tmpfs", MS_REMOUNT, ("size=" + std::to_string(bytes)).c_str()) == 0);
    }

private:
    std::filesystem::path at_;
    bool mounted_ = false;
};

constexpr std::size_t small = 256UL * 1024;    // 1.8 s of sound in a take
constexpr std::size_t few_taps = 384UL * 1024; // 2 s of sound in a journal, which begins at the first rise
constexpr std::size_t large = 8UL * 1024 * 1024;

/// Records six taps; returns the exit status.
int record_six(VirtualAudio& card, const RecordingPlace& place, const std::string& before = "") {
    const std::string program = test::binary_dir() + "/retap record '" + place.take.string() + "' --taps 6";
    const auto recording = std::make_unique<ChildProcess>(
        std::vector<std::string>{"bash", "-c", before + "exec " + program},
        ChildOutput{.out = place.out, .err = place.err}, std::vector{"XDG_STATE_HOME=" + place.state.string()});
    REQUIRE_MESSAGE(eventually([&] { return says(place.out, "Listening"); }), bytes_of(place.err));
    const auto player = card.play(known_take({}).sound, "mic48");
    return recording->wait();
}

/// Some of the six taps are kept and told of, and no journal is left.
void check_kept_up_to_there(const RecordingPlace& place) {
    CHECK(says(place.err, "The take up to there is kept in"));
    const auto kept = inspect_file(place.take);
    CHECK(kept.taps.size() >= 1);
    CHECK(kept.taps.size() < 6);
    CHECK(entries_in(place.journals()) == 0);
}

} // namespace

TEST_CASE("a journal that cannot grow any more ends the recording and keeps the take up to there") {
    VirtualAudio card;
    const RecordingPlace place(card.folder() / "here");
    // No file may grow beyond 384 kB; says "too large" in place of "no space", to those who ignore the signal.
    CHECK(record_six(card, place, "trap '' XFSZ; ulimit -f 384; ") == 3);
    CHECK(says(place.err, "File too large"));
    check_kept_up_to_there(place);
}

TEST_CASE("a disk that fills up under the journal ends the recording and keeps the take up to there") {
    VirtualAudio card;
    const RecordingPlace place(card.folder() / "here");
    const SmallDisk disk(place.state, few_taps);
    if (!disk.mounted()) {
        retap::test::skipped("no rights to mount a small file system here.");
        return;
    }
    CHECK(record_six(card, place) == 3);
    CHECK(says(place.err, "No space left on device"));
    check_kept_up_to_there(place);
}

TEST_CASE("a disk that fills up under the finished take leaves none there, and the whole take is recovered later") {
    VirtualAudio card;
    const RecordingPlace place(card.folder() / "here");
    const SmallDisk disk(place.takes, small);
    if (!disk.mounted()) {
        retap::test::skipped("no rights to mount a small file system here.");
        return;
    }
    CHECK(record_six(card, place) == 3);
    CHECK(says(place.err, "No space left on device"));
    CHECK(says(place.err, "get it back with: retap record --recover"));
    CHECK(entries_in(place.takes) == 0);
    CHECK(run_record(place, {"--recover"})->wait() == 3); // it is still full
    CHECK(entries_in(place.takes) == 0);
    disk.grow(large);
    CHECK(run_record(place, {"--recover"})->wait() == 0);
    CHECK(inspect_file(place.take).taps.size() == 6);
    CHECK(entries_in(place.journals()) == 0);
}
