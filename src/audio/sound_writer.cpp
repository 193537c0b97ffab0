#include "audio/sound_writer.hpp"

#include "audio/sndfile_handle.hpp"
#include "error.hpp"

#include <algorithm>
#include <cassert>
#include <cctype>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <string>

namespace retap::audio {
namespace {

int sndfile_format(SoundFormat format) {
    switch (format) {
    case SoundFormat::wav_24:
        return SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    case SoundFormat::flac_24:
        return SF_FORMAT_FLAC | SF_FORMAT_PCM_24;
    case SoundFormat::wav_float:
        break;
    }
    return SF_FORMAT_WAV | SF_FORMAT_FLOAT;
}

SF_INFO info_for(double sample_rate_hz, int channels, SoundFormat format) {
    assert(sample_rate_hz > 0.0 && sample_rate_hz == std::floor(sample_rate_hz));
    assert(channels >= 1 && channels <= 8);
    SF_INFO info{};
    info.samplerate = static_cast<int>(sample_rate_hz);
    info.channels = channels;
    info.format = sndfile_format(format);
    return info;
}

void prepare(SNDFILE* file) {
    sf_command(file, SFC_SET_CLIPPING, nullptr, SF_TRUE);
    // The PEAK chunk carries the time of writing: the same sound would give other bytes each time.
    sf_command(file, SFC_SET_ADD_PEAK_CHUNK, nullptr, SF_FALSE);
}

/// Room for the header in what 32 bits can count.
constexpr std::uint64_t longest_wav_bytes = 0xFFFFF000U;

} // namespace

struct SoundWriter::State {
    AsideFile aside;
    SF_INFO info;
    SoundFormat format;
    SndfileHandle file;
    std::uint64_t frames = 0;

    [[noreturn]] void refuse(const std::string& fault) const {
        throw InputError("Cannot write '" + aside.destination().string() + "': " + fault +
                         ". Choose another place or make room.");
    }
};

SoundWriter::SoundWriter(const std::filesystem::path& destination, double sample_rate_hz, int channels,
                         SoundFormat format)
    : state_(std::make_unique<State>(State{.aside = AsideFile(destination),
                                           .info = info_for(sample_rate_hz, channels, format),
                                           .format = format,
                                           .file = nullptr})) {
    state_->file.reset(sf_open_fd(state_->aside.descriptor(), SFM_WRITE, &state_->info, SF_FALSE));
    if (!state_->file) {
        state_->refuse(sf_strerror(nullptr));
    }
    prepare(state_->file.get());
}

SoundWriter::~SoundWriter() = default;
SoundWriter::SoundWriter(SoundWriter&&) noexcept = default;
SoundWriter& SoundWriter::operator=(SoundWriter&&) noexcept = default;

void SoundWriter::set_comment(const std::string& text) {
    assert(state_->frames == 0 && text.size() <= max_comment_bytes);
    if (const int fault = sf_set_string(state_->file.get(), SF_STR_COMMENT, text.c_str()); fault != 0) {
        state_->refuse(sf_error_number(fault));
    }
}

void SoundWriter::write(std::span<const float> interleaved) {
    const auto width = static_cast<std::size_t>(state_->info.channels);
    assert(interleaved.size() % width == 0);
    const auto frames = interleaved.size() / width;
    state_->frames += frames;
    const std::size_t sample_bytes = state_->format == SoundFormat::wav_float ? 4 : 3;
    if (state_->format != SoundFormat::flac_24 && state_->frames * width * sample_bytes > longest_wav_bytes) {
        throw InputError("Cannot write '" + state_->aside.destination().string() +
                         "': a WAV file holds at most 4 GB. Save it as FLAC or in parts.");
    }
    const auto written = sf_writef_float(state_->file.get(), interleaved.data(), static_cast<sf_count_t>(frames));
    if (written != static_cast<sf_count_t>(frames)) {
        state_->refuse(sf_strerror(state_->file.get()));
    }
}

void SoundWriter::commit(Existing existing) {
    // FLAC keeps its last block until closing; what fails then shows only as a code.
    if (const int fault = sf_close(state_->file.release()); fault != 0) {
        state_->refuse(sf_error_number(fault));
    }
    state_->aside.commit(existing);
}

void write_sound(const std::filesystem::path& destination, const Sound& sound, SoundFormat format) {
    SoundWriter writer(destination, sound.sample_rate_hz, sound.channels, format);
    if (!sound.comment.empty()) {
        writer.set_comment(sound.comment);
    }
    writer.write(sound.interleaved);
    writer.commit();
}

SoundFormat format_for(const std::filesystem::path& destination) {
    std::string extension = destination.extension().string();
    std::ranges::transform(extension, extension.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (extension == ".wav") {
        return SoundFormat::wav_24;
    }
    if (extension == ".flac") {
        return SoundFormat::flac_24;
    }
    throw UsageError("Cannot tell how to write '" + destination.string() + "': end its name in .wav or .flac.");
}

namespace {

/// Grows as libsndfile writes and goes back to fill in the header.
struct Store {
    std::vector<std::byte> bytes;
    std::size_t place = 0;
};

sf_count_t store_size(void* user) {
    return static_cast<sf_count_t>(static_cast<Store*>(user)->bytes.size());
}

sf_count_t store_seek(sf_count_t offset, int whence, void* user) {
    auto& store = *static_cast<Store*>(user);
    if (whence == SEEK_CUR) {
        offset += static_cast<sf_count_t>(store.place);
    } else if (whence == SEEK_END) {
        offset += static_cast<sf_count_t>(store.bytes.size());
    }
    store.place = static_cast<std::size_t>(std::max<sf_count_t>(offset, 0));
    return static_cast<sf_count_t>(store.place);
}

sf_count_t store_read(void* bytes, sf_count_t count, void* user) {
    auto& store = *static_cast<Store*>(user);
    if (store.place >= store.bytes.size()) {
        return 0;
    }
    const std::size_t got = std::min(static_cast<std::size_t>(count), store.bytes.size() - store.place);
    std::memcpy(bytes, store.bytes.data() + store.place, got);
    store.place += got;
    return static_cast<sf_count_t>(got);
}

sf_count_t store_write(const void* bytes, sf_count_t count, void* user) {
    auto& store = *static_cast<Store*>(user);
    const auto size = static_cast<std::size_t>(count);
    store.bytes.resize(std::max(store.bytes.size(), store.place + size));
    std::memcpy(store.bytes.data() + store.place, bytes, size);
    store.place += size;
    return count;
}

sf_count_t store_tell(void* user) {
    return static_cast<sf_count_t>(static_cast<Store*>(user)->place);
}

} // namespace

std::vector<std::byte> encode_sound(const Sound& sound, SoundFormat format) {
    Store store;
    SF_INFO info = info_for(sound.sample_rate_hz, sound.channels, format);
    SF_VIRTUAL_IO io{store_size, store_seek, store_read, store_write, store_tell};
    SndfileHandle file(sf_open_virtual(&io, SFM_WRITE, &info, &store));
    if (!file) {
        throw std::runtime_error(std::string("libsndfile cannot encode a sound: ") + sf_strerror(nullptr));
    }
    prepare(file.get());
    if (!sound.comment.empty() && sf_set_string(file.get(), SF_STR_COMMENT, sound.comment.c_str()) != 0) {
        throw std::runtime_error("libsndfile cannot put a comment into a sound");
    }
    const auto frames = static_cast<sf_count_t>(sound.interleaved.size()) / sound.channels;
    if (sf_writef_float(file.get(), sound.interleaved.data(), frames) != frames || sf_close(file.release()) != 0) {
        throw std::runtime_error("libsndfile cannot encode a sound");
    }
    return std::move(store.bytes);
}

} // namespace retap::audio
