#include "audio/sound_file.hpp"

#include "audio/byte_source.hpp"
#include "audio/header_check.hpp"
#include "audio/named_formats.hpp"
#include "audio/sndfile_handle.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <utility>

namespace retap::audio {
namespace {

/// Beyond this a sample is damage or wrong scaling, not sound: 40 dB over full scale.
constexpr float absurd_sample = 100.0F;

/// What libsndfile reads from. It is C: nothing may be thrown through it, so a fault of the disk waits in `fault`.
struct Feed {
    const ByteSource* source = nullptr;
    sf_count_t place = 0;
    std::exception_ptr fault;
};

sf_count_t feed_size(void* user) {
    return static_cast<sf_count_t>(static_cast<Feed*>(user)->source->size());
}

sf_count_t feed_seek(sf_count_t offset, int whence, void* user) {
    auto& feed = *static_cast<Feed*>(user);
    if (whence == SEEK_CUR) {
        offset += feed.place;
    } else if (whence == SEEK_END) {
        offset += feed_size(user);
    }
    feed.place = std::max<sf_count_t>(offset, 0);
    return feed.place;
}

sf_count_t feed_read(void* bytes, sf_count_t count, void* user) {
    auto& feed = *static_cast<Feed*>(user);
    try {
        const auto got = feed.source->read_at(static_cast<std::uint64_t>(feed.place),
                                              {static_cast<std::byte*>(bytes), static_cast<std::size_t>(count)});
        feed.place += static_cast<sf_count_t>(got);
        return static_cast<sf_count_t>(got);
    } catch (...) {
        feed.fault = std::current_exception();
        return 0;
    }
}

sf_count_t feed_write(const void* /*bytes*/, sf_count_t /*count*/, void* /*user*/) {
    return 0;
}

sf_count_t feed_tell(void* user) {
    return static_cast<Feed*>(user)->place;
}

bool length_is_a_guess(const SF_INFO& info) {
    return (info.format & SF_FORMAT_TYPEMASK) == SF_FORMAT_MPEG;
}

std::string in_seconds(double frames, double rate) {
    char text[32];
    std::snprintf(text, sizeof text, "%.6f s", frames / rate);
    return text;
}

} // namespace

struct SoundReader::State {
    std::string name;
    std::unique_ptr<ByteSource> source;
    Feed feed; // before `file`, which reads through it to the last
    SF_INFO info{};
    SndfileHandle file;
    std::vector<int> chosen;    // from 0; empty: all
    std::vector<float> staging; // all channels of a block, when some are chosen
    std::int64_t place = 0;

    [[noreturn]] void refuse(const std::string& fault) const {
        throw InputError("Cannot use '" + name + "': " + fault);
    }

    void open(const ChannelChoice& choice);
    void check_header() const;
    void choose(const ChannelChoice& choice);
    void check_samples(std::span<const float> interleaved) const;
    std::size_t read_frames(std::span<float> interleaved);
};

void SoundReader::State::open(const ChannelChoice& choice) {
    feed.source = source.get();
    std::array<std::byte, 12> first{};
    if (!is_named_format(std::span(first).first(source->read_at(0, first)))) {
        refuse("it is not a sound file that can be read (" + std::string(named_formats) +
               " are). Save it as WAV or FLAC.");
    }
    SF_VIRTUAL_IO io{feed_size, feed_seek, feed_read, feed_write, feed_tell};
    file.reset(sf_open_virtual(&io, SFM_READ, &info, &feed));
    if (feed.fault) {
        std::rethrow_exception(feed.fault);
    }
    if (!file) {
        refuse("it is not a sound file that can be read (" + std::string(sf_strerror(nullptr)) +
               "). Save it as WAV or FLAC.");
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
    if (info.frames <= 0) {
        refuse("it holds no sound at all. Record it again.");
    }
    if (info.samplerate < lowest_rate_hz || info.samplerate > highest_rate_hz) {
        refuse("its sample rate is " + std::to_string(info.samplerate) +
               " Hz; rates from 8000 to 192000 Hz can be used. Record at 48000 Hz.");
    }
}

void SoundReader::State::choose(const ChannelChoice& choice) {
    for (const int number : choice.numbers) {
        if (number < 1 || number > info.channels) {
            refuse("channel " + std::to_string(number) + " was asked for, but it has " + std::to_string(info.channels) +
                   ". Choose from those.");
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
    if (chosen.empty() && info.channels > 2) {
        refuse("it has " + std::to_string(info.channels) +
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
        static_cast<std::int64_t>(chosen.empty() ? static_cast<std::size_t>(info.channels) : chosen.size());
    const auto frame = place + (bad - interleaved.begin()) / width;
    refuse(
        std::string(std::isfinite(*bad) ? "a sample is more than 100 times full scale" : "a sample is not a number") +
        " (at " + in_seconds(static_cast<double>(frame), info.samplerate) +
        "); the file is damaged or was saved with the wrong scale. Save or record it again.");
}

std::size_t SoundReader::State::read_frames(std::span<float> interleaved) {
    if (chosen.empty()) {
        const auto want = static_cast<sf_count_t>(interleaved.size()) / info.channels;
        return static_cast<std::size_t>(sf_readf_float(file.get(), interleaved.data(), want));
    }
    const std::size_t frames = interleaved.size() / chosen.size();
    const auto width = static_cast<std::size_t>(info.channels);
    staging.resize(frames * width);
    const auto got =
        static_cast<std::size_t>(sf_readf_float(file.get(), staging.data(), static_cast<sf_count_t>(frames)));
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
    state_->open(choice);
}

SoundReader::SoundReader(std::span<const std::byte> bytes, const std::string& name)
    : state_(std::make_unique<State>()) {
    state_->name = name;
    state_->source = open_memory(bytes);
    state_->open({});
}

SoundReader::~SoundReader() = default;
SoundReader::SoundReader(SoundReader&&) noexcept = default;
SoundReader& SoundReader::operator=(SoundReader&&) noexcept = default;

double SoundReader::sample_rate_hz() const {
    return state_->info.samplerate;
}

int SoundReader::channels() const {
    return state_->chosen.empty() ? state_->info.channels : static_cast<int>(state_->chosen.size());
}

std::int64_t SoundReader::frames() const {
    return state_->info.frames;
}

std::string SoundReader::comment() const {
    const char* text = sf_get_string(state_->file.get(), SF_STR_COMMENT);
    return text == nullptr ? std::string() : std::string(text);
}

std::size_t SoundReader::read(std::span<float> interleaved) {
    const auto width = static_cast<std::size_t>(channels());
    assert(!interleaved.empty() && interleaved.size() % width == 0);
    const std::size_t got = state_->read_frames(interleaved);
    if (state_->feed.fault) {
        std::rethrow_exception(state_->feed.fault);
    }
    state_->check_samples(interleaved.first(got * width));
    state_->place += static_cast<std::int64_t>(got);
    if (got * width < interleaved.size() && state_->place < state_->info.frames && !length_is_a_guess(state_->info)) {
        state_->refuse("it ends after " + in_seconds(static_cast<double>(state_->place), sample_rate_hz()) +
                       " though its header says " +
                       in_seconds(static_cast<double>(state_->info.frames), sample_rate_hz()) +
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
    if (reader.frames() < SF_COUNT_MAX) { // that stands for a length that is not known
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
