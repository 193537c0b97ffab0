#include "audio/take_session.hpp"

#include "audio/journal_taps.hpp"
#include "audio/keeper.hpp"
#include "audio/sound_file.hpp"
#include "known_take.hpp"
#include "paths.hpp"
#include "temp_folder.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>
#include <numeric>
#include <random>
#include <span>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

namespace {

/// Feeds a sound in 10 ms blocks and notes the progress after each.
std::vector<SessionProgress> watch(const Sound& sound, const SessionSettings& settings) {
    const TempFolder folder;
    const StreamFormat format{.sample_rate_hz = sound.sample_rate_hz, .channels = sound.channels};
    JournalWriter journal(folder / "a.journal", {.take_id = "x", .destination = "x", .format = format});
    TakeSession session(format, settings, journal);
    std::vector<SessionProgress> seen;
    std::span<const float> rest(sound.interleaved);
    const auto block =
        static_cast<std::size_t>(sound.sample_rate_hz / 100.0) * static_cast<std::size_t>(sound.channels);
    while (!rest.empty() && session.ended_by() == EndedBy::running) {
        const auto part = rest.first(std::min(block, rest.size()));
        rest = rest.subspan(part.size());
        session.block(part);
        seen.push_back(session.progress());
    }
    return seen;
}

bool ever(const std::vector<SessionProgress>& seen, Hint hint) {
    return std::any_of(seen.begin(), seen.end(), [&](const SessionProgress& p) { return p.hint == hint; });
}

void scale(Sound& sound, float gain) {
    for (float& sample : sound.interleaved) {
        sample = std::clamp(sample * gain, -1.0F, 1.0F);
    }
}

} // namespace

TEST_CASE("taps are counted within a second of sounding") {
    const KnownTake made = known_take({});
    const auto seen = watch(made.sound, {.good_taps = 8});
    for (std::size_t tap = 0; tap < made.onsets_s.size(); ++tap) {
        const auto at = static_cast<std::size_t>((made.onsets_s[tap] + 1.0) * 100.0);
        REQUIRE(at < seen.size());
        CHECK(seen[at].taps >= tap + 1);
    }
    CHECK(seen.back().taps == made.onsets_s.size());
    CHECK_FALSE(seen[50].started);
    CHECK(seen.back().started);
}

TEST_CASE("a good take is recorded without a word") {
    const auto seen = watch(known_take({}).sound, {.good_taps = 6});
    CHECK(seen.back().ended_by == EndedBy::enough_taps);
    for (const Hint hint : {Hint::too_soft, Hint::too_loud, Hint::too_noisy, Hint::talk_after_taps}) {
        CHECK_FALSE(ever(seen, hint));
    }
}

TEST_CASE("taps that reach full scale are said to be too loud at once") {
    KnownTake made = known_take({});
    scale(made.sound, 10.0F);
    const auto seen = watch(made.sound, {.good_taps = 6});
    CHECK(ever(seen, Hint::too_loud));
    CHECK(seen[static_cast<std::size_t>((made.onsets_s[0] + 0.1) * 100.0)].hint == Hint::too_loud);
}

TEST_CASE("taps near the noise of a quiet room are too soft, near a loud noise it is too noisy") {
    // 20 dB of tap over noise: found, but too little to look inside.
    for (const bool loud_room : {false, true}) {
        CAPTURE(loud_room);
        const bite::Take take = bite::make_take({.patient = 11,
                                                 .taps = 6,
                                                 .lead_s = 1.0,
                                                 .tail_s = 2.0,
                                                 .usual_peak_dbfs = loud_room ? -10.0 : -60.0,
                                                 .peak_over_noise_db = 20.0});
        const Sound sound{.sample_rate_hz = 48000.0, .channels = 1, .interleaved = take.channels[0]};
        const auto seen = watch(sound, {.good_taps = 6});
        CHECK(ever(seen, Hint::too_noisy) == loud_room);
        CHECK(ever(seen, Hint::too_soft) == !loud_room);
    }
}

TEST_CASE("talk after the taps is said, and holds up the end no longer than its limit") {
    KnownTake made = known_take({.tail_s = 6.0});
    add_talk(made.sound, made.onsets_s.back() + 0.3, made.onsets_s.back() + 5.5, 0.3F);
    const auto seen = watch(made.sound, {.good_taps = 6});
    CHECK(ever(seen, Hint::talk_after_taps));
    CHECK(seen.back().ended_by == EndedBy::enough_taps);
    CHECK(seen.back().listened_s == doctest::Approx(made.onsets_s.back() + 2.5).epsilon(0.01));
}

TEST_CASE("a patient who goes on tapping is not cut off, and the taps are counted") {
    const KnownTake made = known_take({.taps = 9});
    const auto seen = watch(made.sound, {.good_taps = 6});
    CHECK(seen.back().ended_by == EndedBy::enough_taps);
    CHECK(seen.back().taps == 9);
}

TEST_CASE("blocks of any size give the same session") {
    const KnownTake made = known_take({.rate_hz = 44100.0});
    const auto fine = watch(made.sound, {.good_taps = 6}).back();
    const TempFolder folder;
    JournalWriter journal(folder / "a.journal",
                          {.take_id = "x", .destination = "x", .format = {.sample_rate_hz = 44100.0}});
    TakeSession session({.sample_rate_hz = 44100.0, .channels = 1}, {.good_taps = 6}, journal);
    session.block(made.sound.interleaved);
    CHECK(session.progress().listened_s == fine.listened_s);
    CHECK(session.progress().taps == fine.taps);
    CHECK(session.ended_by() == fine.ended_by);
}

TEST_CASE("a tap is in the journal as soon as it has sounded, long before it is known to be one") {
    const KnownTake made = known_take({});
    const TempFolder folder;
    const StreamFormat format{.sample_rate_hz = made.sound.sample_rate_hz, .channels = made.sound.channels};
    JournalWriter journal(folder / "a.journal", {.take_id = "x", .destination = "x", .format = format});
    TakeSession session(format, {.good_taps = 8}, journal);
    const std::span<const float> all(made.sound.interleaved);
    std::size_t at = 0;
    constexpr std::size_t block = 480;
    for (std::size_t tap = 0; tap < 2; ++tap) {
        constexpr double just_after_s = 0.05;
        const auto killed_at = static_cast<std::size_t>((made.onsets_s[tap] + just_after_s) * format.sample_rate_hz);
        for (; at + block <= killed_at; at += block) {
            session.block(all.subspan(at, block));
        }
        std::uint64_t last = 0;
        JournalReader reader(folder / "a.journal");
        JournalReader::Record record;
        while (reader.next(record)) {
            last = std::max<std::uint64_t>(last, record.position + record.samples.size());
        }
        CHECK(last >= static_cast<std::uint64_t>((made.onsets_s[tap] + 0.03) * format.sample_rate_hz));
    }
    CHECK(session.progress().taps == 0); // neither was known yet
}

TEST_CASE("a soft tap that a loud sound follows at once is not forgotten") {
    // The loud sound is written down first; what lay before it must not be dropped for that.
    const StreamFormat format{.sample_rate_hz = 48000.0, .channels = 1};
    class Out : public KeptSound {
    public:
        std::vector<float> kept;
        void samples(std::uint64_t, std::span<const float> interleaved) override {
            kept.insert(kept.end(), interleaved.begin(), interleaved.end());
        }
        void gap(std::uint64_t, std::uint64_t) override {}
    } out;
    Keeper keeper(format, {.before_s = 0.5, .after_s = 1.5, .decision_s = 1.0}, out);
    std::vector<float> ramp(72000);
    std::iota(ramp.begin(), ramp.end(), 0.0F);
    keeper.block(ramp);
    keeper.rise_at(1.45);
    keeper.tap_at(0.6); // known only now
    CHECK(out.kept == ramp);
}

TEST_CASE("what was loud and was no tap is in the journal, and not in what is kept of it") {
    KnownTake made = known_take({});
    std::fill(made.sound.interleaved.begin(), made.sound.interleaved.end(), 0.0F);
    std::mt19937 random(4);
    for (float& sample : made.sound.interleaved) {
        sample = static_cast<float>(random() % 2000) / 1e8F;
    }
    add_talk(made.sound, 0.5, 1.5, 0.3F);
    const TempFolder folder;
    const StreamFormat format{.sample_rate_hz = made.sound.sample_rate_hz, .channels = made.sound.channels};
    {
        JournalWriter journal(folder / "a.journal",
                              {.take_id = "x", .destination = folder / "x.wav", .format = format});
        TakeSession session(format, {.good_taps = 8}, journal);
        session.block(made.sound.interleaved);
        CHECK(session.progress().taps == 0);
        CHECK(session.finish() == std::vector<Span>{});
        CHECK(journal.frames() > 0);
    }
    CHECK(spans_to_recover(folder / "a.journal") == std::vector<Span>{});
}

// The first blocks of quiet before a tap were recovered as a take with one tap, which was put into its visit.
TEST_CASE("a journal that ends before any tap can be told from noise holds none") {
    const Sound before = read_sound(test::source_dir() + "/recordings/before.flac");
    const StreamFormat format{.sample_rate_hz = before.sample_rate_hz, .channels = before.channels};
    const TempFolder folder;
    for (const double seconds : {0.01, 0.02, 0.03, 0.04, 0.06, 0.1}) {
        CAPTURE(seconds);
        const auto path = folder / (std::to_string(seconds) + ".journal");
        {
            JournalWriter journal(path, {.take_id = "x", .destination = folder / "x.wav", .format = format});
            journal.samples(
                0, std::span(before.interleaved).first(static_cast<std::size_t>(seconds * before.sample_rate_hz)));
        }
        CHECK(spans_to_recover(path) == std::vector<Span>{});
    }
}
