#include "audio/sndfile_source.hpp"

#include "audio/sndfile_handle.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <exception>
#include <utility>

namespace retap::audio {
namespace {

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

/// Formats that throw nothing away have no name here.
std::string lossy_name(const SF_INFO& info) {
    struct Named {
        int subtype;
        const char* name;
    };
    constexpr std::array named{Named{SF_FORMAT_VORBIS, "Vorbis"},          Named{SF_FORMAT_OPUS, "Opus"},
                               Named{SF_FORMAT_MPEG_LAYER_I, "MP1"},       Named{SF_FORMAT_MPEG_LAYER_II, "MP2"},
                               Named{SF_FORMAT_MPEG_LAYER_III, "MP3"},     Named{SF_FORMAT_ULAW, "G.711 mu-law"},
                               Named{SF_FORMAT_ALAW, "G.711 A-law"},       Named{SF_FORMAT_IMA_ADPCM, "IMA ADPCM"},
                               Named{SF_FORMAT_MS_ADPCM, "MS ADPCM"},      Named{SF_FORMAT_VOX_ADPCM, "VOX ADPCM"},
                               Named{SF_FORMAT_NMS_ADPCM_16, "NMS ADPCM"}, Named{SF_FORMAT_NMS_ADPCM_24, "NMS ADPCM"},
                               Named{SF_FORMAT_NMS_ADPCM_32, "NMS ADPCM"}, Named{SF_FORMAT_GSM610, "GSM 6.10"},
                               Named{SF_FORMAT_G721_32, "G.721"},          Named{SF_FORMAT_G723_24, "G.723"},
                               Named{SF_FORMAT_G723_40, "G.723"}};
    const auto found = std::ranges::find(named, info.format & SF_FORMAT_SUBMASK, &Named::subtype);
    return found == named.end() ? std::string() : found->name;
}

class SndfileFrames final : public FrameSource {
public:
    SndfileFrames(std::unique_ptr<Feed> feed, SndfileHandle file, const SF_INFO& info)
        : feed_(std::move(feed)), file_(std::move(file)), info_(info) {}

    [[nodiscard]] int sample_rate_hz() const override { return info_.samplerate; }
    [[nodiscard]] int channels() const override { return info_.channels; }
    [[nodiscard]] std::int64_t frames() const override { return info_.frames; }
    [[nodiscard]] bool length_is_a_guess() const override {
        return (info_.format & SF_FORMAT_TYPEMASK) == SF_FORMAT_MPEG;
    }
    [[nodiscard]] std::string codec() const override { return lossy_name(info_); }
    [[nodiscard]] std::string comment() const override {
        const char* text = sf_get_string(file_.get(), SF_STR_COMMENT);
        return text == nullptr ? std::string() : std::string(text);
    }
    std::size_t read_frames(std::span<float> interleaved) override {
        const auto want = static_cast<sf_count_t>(interleaved.size()) / info_.channels;
        const sf_count_t got = sf_readf_float(file_.get(), interleaved.data(), want);
        if (feed_->fault) {
            std::rethrow_exception(feed_->fault);
        }
        return static_cast<std::size_t>(got);
    }

private:
    std::unique_ptr<Feed> feed_; // before `file_`, which reads through it to the last
    SndfileHandle file_;
    SF_INFO info_;
};

} // namespace

SndfileOpened open_with_sndfile(const ByteSource& source) {
    auto feed = std::make_unique<Feed>();
    feed->source = &source;
    SF_VIRTUAL_IO io{feed_size, feed_seek, feed_read, feed_write, feed_tell};
    SF_INFO info{};
    SndfileHandle file(sf_open_virtual(&io, SFM_READ, &info, feed.get()));
    if (feed->fault) {
        std::rethrow_exception(feed->fault);
    }
    if (!file) {
        return {.frames = nullptr, .fault = sf_strerror(nullptr)};
    }
    return {.frames = std::make_unique<SndfileFrames>(std::move(feed), std::move(file), info), .fault = {}};
}

} // namespace retap::audio
