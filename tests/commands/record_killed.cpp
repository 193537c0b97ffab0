// Kills at random moments: no finished take may be lost, and what a killed recording had heard must come back.
#include "audio/capture_note.hpp"
#include "audio/inspect_file.hpp"
#include "audio/journal.hpp"
#include "audio/known_take.hpp"
#include "audio/sound_file.hpp"
#include "program_recording.hpp"
#include "virtual_audio.hpp"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <memory>
#include <optional>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;
using namespace std::chrono_literals;

namespace {

using Clock = std::chrono::steady_clock;

constexpr int at_once = 10;

/// 10, or what RETAP_KILLS says.
int wanted_kills() {
    const char* text = std::getenv("RETAP_KILLS");
    return text == nullptr ? at_once : std::max(1, std::atoi(text));
}

/// A recording that is killed: after a time, or a little while after its saving began.
struct Victim {
    RecordingPlace place;
    std::unique_ptr<ChildProcess> process{};
    std::optional<std::chrono::microseconds> after{}; ///< since the sound began
    std::chrono::microseconds into_saving{};
    std::optional<Clock::time_point> saving_seen{};
};

struct Tally {
    int before_first_tap = 0;
    int while_recording = 0;
    int while_saving = 0;
    int when_finished = 0;
};

/// Due to be killed by now? Saving begins when something appears where the take shall be.
bool is_due(Victim& victim, Clock::time_point began) {
    const auto now = Clock::now();
    if (victim.after) {
        return now - began >= *victim.after;
    }
    if (!victim.saving_seen && entries_in(victim.place.takes) > 0) {
        victim.saving_seen = now;
    }
    return victim.saving_seen && now - *victim.saving_seen >= victim.into_saving;
}

void kill_all(std::vector<Victim>& victims, Clock::time_point began) {
    std::vector<Victim*> living;
    living.reserve(victims.size());
    for (Victim& victim : victims) {
        living.push_back(&victim);
    }
    while (!living.empty()) {
        std::erase_if(living, [&](Victim* victim) {
            if (!is_due(*victim, began) && !victim->process->poll()) {
                return false;
            }
            victim->process->send(SIGKILL);
            return true;
        });
        std::this_thread::sleep_for(200us);
    }
    for (Victim& victim : victims) {
        victim.process->wait();
    }
}

/// What the journal of a killed recording says: whether it holds sound, and how many taps it had heard.
struct Left {
    bool sound = false;
    std::size_t taps = 0;
};
Left left_in(const std::filesystem::path& journals) {
    Left left;
    std::error_code none;
    for (const auto& entry : std::filesystem::directory_iterator(journals, none)) {
        if (!has_whole_head(entry.path())) {
            continue; // killed while it made the file
        }
        JournalReader reader(entry.path());
        JournalReader::Record record;
        while (reader.next(record)) {
            left.sound = left.sound || !record.samples.empty();
            left.taps += record.kind == journal_format::RecordKind::tap ? 1U : 0U;
        }
    }
    return left;
}

bool lies_in(const std::vector<float>& part, const std::vector<float>& whole) {
    // The card delivers silence while nothing is played.
    const auto sounds = [](float sample) { return sample != 0.0F; };
    const auto first = std::find_if(part.begin(), part.end(), sounds);
    const auto last = std::find_if(part.rbegin(), part.rend(), sounds).base();
    return first < last && std::search(whole.begin(), whole.end(), first, last) != whole.end();
}

void check_left_behind(const Victim& victim, const KnownTake& played, Tally& tally) {
    const bool finished = std::filesystem::exists(victim.place.take);
    const std::string finished_bytes = finished ? bytes_of(victim.place.take) : "";
    const bool half_written = !finished && entries_in(victim.place.takes) > 0;
    const Left left = left_in(victim.place.journals());
    CAPTURE(finished);
    CAPTURE(half_written);
    CAPTURE(left.taps);

    CHECK(run_record(victim.place, {"--recover"})->wait() == 0);
    CAPTURE(bytes_of(victim.place.out));
    CAPTURE(bytes_of(victim.place.err));
    CHECK(entries_in(victim.place.journals()) == 0);
    if (!finished && (!left.sound || (left.taps == 0 && entries_in(victim.place.takes) == 0))) {
        ++tally.before_first_tap;
        CHECK(entries_in(victim.place.takes) == 0);
        CHECK_FALSE(says(victim.place.out, "The first tap was heard."));
        return;
    }
    ++(finished ? tally.when_finished : half_written ? tally.while_saving : tally.while_recording);
    CHECK(entries_in(victim.place.takes) == 1);
    REQUIRE(std::filesystem::exists(victim.place.take));
    if (finished) {
        CHECK(bytes_of(victim.place.take) == finished_bytes);
    }
    const Sound kept = read_sound(victim.place.take);
    CHECK(read_note(kept.comment).value().recovered == !finished);
    CHECK(lies_in(kept.interleaved, played.sound.interleaved));
    CHECK(inspect_sound(kept, "kept").taps.size() >= (finished ? played.onsets_s.size() : left.taps));
}

} // namespace

TEST_CASE("kills at random moments lose no finished take, and every unfinished one is recovered") {
    VirtualAudio card;
    const KnownTake played = known_take({.taps = 5, .lead_s = 0.4, .tail_s = 1.0});
    const auto lasts = std::chrono::microseconds(1000000 * played.sound.interleaved.size() / 48000);
    constexpr unsigned seed = 20;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto up_to = [&](std::chrono::microseconds most) {
        return std::chrono::microseconds(random() % static_cast<unsigned>(most.count()));
    };
    Tally tally;
    for (int killed = 0; killed < wanted_kills(); killed += at_once) {
        const TempFolder folder;
        std::vector<Victim> victims;
        victims.reserve(at_once);
        for (int i = 0; i < at_once; ++i) {
            victims.push_back({.place = RecordingPlace(folder / std::to_string(i))});
            if (i % 2 == 0) {
                victims.back().after = (i * lasts + up_to(2 * lasts)) / at_once; // each in its own part of the sound
            } else {
                victims.back().into_saving = up_to(6ms);
            }
            // One after the other: each looks through all devices first, and the server takes only so many at a time.
            const RecordingPlace& place = victims.back().place;
            victims.back().process = run_record(place, {place.take.string(), "--taps=5"});
            REQUIRE_MESSAGE(eventually([&] { return says(place.out, "Listening"); }), bytes_of(place.err));
        }
        const auto player = card.play(played.sound, "mic48");
        kill_all(victims, Clock::now());
        for (std::size_t i = 0; i < victims.size(); ++i) {
            CAPTURE(killed);
            CAPTURE(i);
            check_left_behind(victims[i], played, tally);
        }
    }
    MESSAGE("Killed before the first tap: ", tally.before_first_tap, ", while recording: ", tally.while_recording,
            ", while saving: ", tally.while_saving, ", when finished: ", tally.when_finished);
    CHECK(tally.while_recording > 0);
    CHECK(tally.while_saving + tally.when_finished > 0);
}
