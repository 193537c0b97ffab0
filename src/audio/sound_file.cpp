#include "audio/sound_file.hpp"

#include "audio/byte_source.hpp"
#include "audio/capture_note.hpp"
#include "audio/decoder_process.hpp"
#include "audio/header_check.hpp"
#include "audio/named_formats.hpp"
#include "audio/sndfile_source.hpp"
#include "audio/sound_magic.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <functional>
#include <string_view>
#include <utility>

namespace retap::audio {
namespace {

/// Beyond this a sample is damage or wrong scaling, not sound: 40 dB over full scale.
constexpr float absurd_sample = 100.0F;

/// What libsndfile does not read at all, by sound_kind(); of the rest it has said what is wrong.
constexpr std::array<std::string_view, 8> decoded_elsewhere{"MP4", "WebM", "AMR",     "WMA",
                                                            "AAC", "CAF",  "WavPack", "APE"};

std::string in_seconds(double frames, double rate) {
    char text[32];
    std::snprintf(text, sizeof text, "%.6f s", frames / rate);
    return text;
}

} // namespace

struct SoundReader::State {
    std::string name;
    std::unique_ptr<ByteSource> source; // before `frames`, which may read from it to the last
    std::unique_ptr<FrameSource> frames;
    std::vector<int> chosen;    // from 0; empty: all
    std::vector<float> staging; // all channels of a block, when some are chosen
    std::int64_t place = 0;

    [[noreturn]] void refuse(const std::string& fault) const {
        throw InputError("Cannot use '" + name + "': " + fault);
    }

    /// `decode` starts a decoder on the same bytes, for what libsndfile does not know.
    void open(const ChannelChoice& choice, const std::function<std::unique_ptr<FrameSource>()>& decode);
    void check_header() const;
    void choose(const ChannelChoice& choice);
    void check_samples(std::span<const float> interleaved) const;
    std::size_t read_frames(std::span<float> interleaved);
};

void SoundReader::State::open(const ChannelChoice& choice,
                              const std::function<std::unique_ptr<FrameSource>()>& decode) {
    std::array<std::byte, 16> first{};
    const auto begins = std::span(first).first(source->read_at(0, first));
    if (is_named_format(begins.first(std::min<std::size_t>(begins.size(), 12)))) {
        SndfileOpened opened = open_with_sndfile(*source);
        frames = std::move(opened.frames);
        if (!frames) {
            refuse("it is not a sound file that can be read (" + opened.fault + "). Save it as WAV or FLAC.");
        }
    } else {
        const auto kind = sound_kind(begins);
        if (!kind || std::ranges::find(decoded_elsewhere, *kind) == decoded_elsewhere.end()) {
            refuse("it is not a sound file that can be read (" + std::string(named_formats) +
                   " are). Save it as WAV or FLAC.");
        }
        if (!can_decode_phones()) {
            refuse("it is " + std::string(*kind) +
                   ", and this Retap was built without what reads it. Save it as WAV or FLAC.");
        }
        frames = decode();
    }
    check_header();
    choose(choice);
}

void SoundReader::State::check_header() const {
    if (const auto shortfall = find_shortfall(*source)) {
        refuse("its header promises " + std::to_string(shortfall->promised_bytes) + " bytes of sound but only " +
               std::to_string(shortfall->held_bytes) +
               " are there; it was cut short or never finished. Copy or record it again.");
    }
    if (frames->frames() <= 0) {
        refuse("it holds no sound at all. Record it again.");
    }
    if (frames->sample_rate_hz() < lowest_rate_hz || frames->sample_rate_hz() > highest_rate_hz) {
        refuse("its sample rate is " + std::to_string(frames->sample_rate_hz()) +
               " Hz; rates from 8000 to 192000 Hz can be used. Record at 48000 Hz.");
    }
}

void SoundReader::State::choose(const ChannelChoice& choice) {
    for (const int number : choice.numbers) {
        if (number < 1 || number > frames->channels()) {
            refuse("channel " + std::to_string(number) + " was asked for, but it has " +
                   std::to_string(frames->channels()) + ". Choose from those.");
        }
        chosen.push_back(number - 1);
    }
    if (chosen.size() > 2) {
        refuse(std::to_string(chosen.size()) + " channels were asked for. Choose one, or two as left and right.");
    }
    if (chosen.size() == 2 && chosen[0] == chosen[1]) {
        refuse("channel " + std::to_string(chosen[0] + 1) +
               " was asked for as left and as right. Choose two different ones, or one.");
    }
    if (chosen.empty() && frames->channels() > 2) {
        refuse("it has " + std::to_string(frames->channels()) +
               " channels, and which of them are the pick-ups is not known. Choose one, or two as left and right "
               "(--channels 1 or --channels 1,2).");
    }
}

void SoundReader::State::check_samples(std::span<const float> interleaved) const {
    const auto bad = std::ranges::find_if(interleaved, [](float x) { return !(std::abs(x) <= absurd_sample); });
    if (bad == interleaved.end()) {
        return;
    }
    const auto width =
        static_cast<std::int64_t>(chosen.empty() ? static_cast<std::size_t>(frames->channels()) : chosen.size());
    const auto frame = place + (bad - interleaved.begin()) / width;
    refuse(
        std::string(std::isfinite(*bad) ? "a sample is more than 100 times full scale" : "a sample is not a number") +
        " (at " + in_seconds(static_cast<double>(frame), frames->sample_rate_hz()) +
        "); the file is damaged or was saved with the wrong scale. Save or record it again.");
}

std::size_t SoundReader::State::read_frames(std::span<float> interleaved) {
    if (chosen.empty()) {
        return frames->read_frames(interleaved);
    }
    const std::size_t wanted = interleaved.size() / chosen.size();
    const auto width = static_cast<std::size_t>(frames->channels());
    staging.resize(wanted * width);
    const std::size_t got = frames->read_frames(staging);
    for (std::size_t frame = 0; frame < got; ++frame) {
        for (std::size_t i = 0; i < chosen.size(); ++i) {
            interleaved[frame * chosen.size() + i] = staging[frame * width + static_cast<std::size_t>(chosen[i])];
        }
    }
    return got;
}

SoundReader::SoundReader(const std::filesystem::path& path, const ChannelChoice& choice)
    : state_(std::make_unique<State>()) {
    state_->name = path.string();
    state_->source = open_file(path);
    state_->open(choice, [&] { return decode_in_process(path); });
}

SoundReader::SoundReader(std::span<const std::byte> bytes, const std::string& name)
    : state_(std::make_unique<State>()) {
    state_->name = name;
    state_->source = open_memory(bytes);
    state_->open({}, [&] { return decode_in_process(bytes, name); });
}

SoundReader::~SoundReader() = default;
SoundReader::SoundReader(SoundReader&&) noexcept = default;
SoundReader& SoundReader::operator=(SoundReader&&) noexcept = default;

double SoundReader::sample_rate_hz() const {
    return state_->frames->sample_rate_hz();
}

int SoundReader::channels() const {
    return state_->chosen.empty() ? state_->frames->channels() : static_cast<int>(state_->chosen.size());
}

std::int64_t SoundReader::frames() const {
    return state_->frames->frames();
}

std::optional<double> SoundReader::duration_s() const {
    return state_->frames->length_is_a_guess() ? std::nullopt
                                               : std::optional(static_cast<double>(frames()) / sample_rate_hz());
}

std::string SoundReader::codec() const {
    const auto note = read_note(comment());
    return note ? note->codec : std::string();
}

std::string SoundReader::comment() const {
    std::string comment = state_->frames->comment();
    if (const std::string codec = state_->frames->codec(); !codec.empty()) {
        CaptureNote note = read_note(comment).value_or(CaptureNote{.kept_everything = true});
        note.codec = codec;
        return write_note(note);
    }
    return comment;
}

std::size_t SoundReader::read(std::span<float> interleaved) {
    const auto width = static_cast<std::size_t>(channels());
    assert(!interleaved.empty() && interleaved.size() % width == 0);
    const std::size_t got = state_->read_frames(interleaved);
    state_->check_samples(interleaved.first(got * width));
    state_->place += static_cast<std::int64_t>(got);
    if (got * width < interleaved.size() && state_->place < state_->frames->frames() &&
        !state_->frames->length_is_a_guess()) {
        state_->refuse("it ends after " + in_seconds(static_cast<double>(state_->place), sample_rate_hz()) +
                       " though its header says " +
                       in_seconds(static_cast<double>(state_->frames->frames()), sample_rate_hz()) +
                       "; it was cut short or is damaged. Copy or record it again.");
    }
    return got;
}

namespace {

/// What is held whole in memory is no longer than this: ten minutes of two channels at 48 kHz, a quarter of a gigabyte.
constexpr std::size_t most_held_samples = 60'000'000;

/// How many samples, and what to say when there are more.
struct Bound {
    std::size_t samples = SIZE_MAX;
    std::string refusal{};
};

Sound read_all(SoundReader reader, const Bound& bound = {}) {
    const auto check = [&](std::uint64_t frames) {
        if (frames > bound.samples / static_cast<std::size_t>(reader.channels())) {
            throw InputError(bound.refusal);
        }
    };
    if (reader.duration_s()) {
        check(static_cast<std::uint64_t>(reader.frames()));
    }
    Sound sound{.sample_rate_hz = reader.sample_rate_hz(),
                .channels = reader.channels(),
                .interleaved = {},
                .comment = reader.comment()};
    constexpr std::size_t block_frames = 65536;
    const auto width = static_cast<std::size_t>(sound.channels);
    // Grown as it is read, not by what the header says: a damaged header must not claim the memory.
    for (std::size_t filled = 0;;) {
        sound.interleaved.resize(filled + block_frames * width);
        const std::size_t got = reader.read(std::span(sound.interleaved).subspan(filled));
        filled += got * width;
        check(filled / width);
        if (got == 0) {
            sound.interleaved.resize(filled);
            return sound;
        }
    }
}

} // namespace

Sound read_sound(const std::filesystem::path& path, const ChannelChoice& choice) {
    return read_all(SoundReader(path, choice));
}

Sound read_sound(std::span<const std::byte> bytes, const std::string& name) {
    return read_all(SoundReader(bytes, name),
                    {most_held_samples, "Cannot use '" + name +
                                            "': it holds more than ten minutes of sound, and a take is some seconds of "
                                            "tapping. Cut it first."});
}

} // namespace retap::audio
