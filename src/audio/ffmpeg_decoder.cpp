#include "audio/ffmpeg_decoder.hpp"

#include "audio/decoder_wire.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <sys/stat.h>
#include <unistd.h>
#include <vector>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/mathematics.h>
#include <libswresample/swresample.h>
}

namespace retap::audio {
namespace {

namespace wire = decoder_wire;

/// Containers that sound comes in. Playlists and what else names other files are not among them.
constexpr const char* containers = "mov,matroska,webm,amr,amrnb,amrwb,asf,aac,caf,ogg,mp3,wav,flac,aiff,wv,ape";

/// Ends the decoding; what() goes to the reader as it is.
struct DecodingFault : std::runtime_error {
    using std::runtime_error::runtime_error;
};

std::string reason(int error) {
    std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
    av_strerror(error, text.data(), text.size());
    return text.data();
}

// --- The file, read by its descriptor alone ---

struct File {
    int descriptor = -1;
    std::int64_t size = 0;
    std::int64_t place = 0;
};

int read_file(void* user, std::uint8_t* bytes, int count) {
    auto& file = *static_cast<File*>(user);
    ssize_t got = -1;
    do {
        got = pread(file.descriptor, bytes, static_cast<std::size_t>(count), file.place);
    } while (got < 0 && errno == EINTR);
    if (got <= 0) {
        return got == 0 ? AVERROR_EOF : AVERROR(errno);
    }
    file.place += got;
    return static_cast<int>(got);
}

std::int64_t seek_file(void* user, std::int64_t offset, int whence) {
    auto& file = *static_cast<File*>(user);
    switch (whence & ~AVSEEK_FORCE) {
    case AVSEEK_SIZE:
        return file.size;
    case SEEK_CUR:
        offset += file.place;
        break;
    case SEEK_END:
        offset += file.size;
        break;
    default:
        break;
    }
    if (offset < 0) {
        return AVERROR(EINVAL);
    }
    file.place = offset;
    return offset;
}

struct FreeIo {
    void operator()(AVIOContext* io) const {
        av_freep(&io->buffer);
        avio_context_free(&io);
    }
};
struct FreeFormat {
    void operator()(AVFormatContext* format) const { avformat_close_input(&format); }
};
struct FreeCodec {
    void operator()(AVCodecContext* codec) const { avcodec_free_context(&codec); }
};
struct FreePacket {
    void operator()(AVPacket* packet) const { av_packet_free(&packet); }
};
struct FreeFrame {
    void operator()(AVFrame* frame) const { av_frame_free(&frame); }
};
struct FreeConverter {
    void operator()(SwrContext* converter) const { swr_free(&converter); }
};

// --- The pipe ---

class Pipe {
public:
    explicit Pipe(int descriptor) : descriptor_(descriptor) {}

    void write(const void* bytes, std::size_t count) const {
        const auto* at = static_cast<const char*>(bytes);
        while (count > 0) {
            const ssize_t written = ::write(descriptor_, at, count);
            if (written < 0 && errno == EINTR) {
                continue;
            }
            if (written < 0) {
                _exit(1); // nobody listens any more
            }
            at += written;
            count -= static_cast<std::size_t>(written);
        }
    }

private:
    int descriptor_;
};

/// As much of `text` as there is room for before a closing zero.
template <std::size_t size>
std::array<char, size> fixed(std::string_view text) {
    std::array<char, size> out{};
    std::copy_n(text.begin(), std::min(text.size(), size - 1), out.begin());
    return out;
}

// --- Decoding ---

/// Empty for a codec that throws nothing away.
std::string lossy_name(const AVCodecContext& codec) {
    switch (codec.codec_id) {
    case AV_CODEC_ID_AAC:
        return codec.profile == FF_PROFILE_AAC_HE || codec.profile == FF_PROFILE_AAC_HE_V2 ? "HE-AAC" : "AAC";
    case AV_CODEC_ID_OPUS:
        return "Opus";
    case AV_CODEC_ID_VORBIS:
        return "Vorbis";
    case AV_CODEC_ID_MP3:
        return "MP3";
    case AV_CODEC_ID_AMR_NB:
        return "AMR-NB";
    case AV_CODEC_ID_AMR_WB:
        return "AMR-WB";
    case AV_CODEC_ID_WMAV1:
    case AV_CODEC_ID_WMAV2:
    case AV_CODEC_ID_WMAPRO:
    case AV_CODEC_ID_WMAVOICE:
        return "WMA";
    case AV_CODEC_ID_PCM_MULAW:
        return "G.711 mu-law";
    case AV_CODEC_ID_PCM_ALAW:
        return "G.711 A-law";
    default:
        break;
    }
    const AVCodecDescriptor* about = avcodec_descriptor_get(codec.codec_id);
    return about != nullptr && (about->props & AV_CODEC_PROP_LOSSY) != 0 ? std::string(about->name) : std::string();
}

class Decoding {
public:
    Decoding(int file_descriptor, int pipe_descriptor) : pipe_(pipe_descriptor) {
        file_.descriptor = file_descriptor;
        struct stat state {};
        if (fstat(file_descriptor, &state) == 0) {
            file_.size = state.st_size;
        }
    }

    void run() {
        open_file();
        open_codec();
        const std::unique_ptr<AVPacket, FreePacket> packet(av_packet_alloc());
        frame_.reset(av_frame_alloc());
        if (!packet || !frame_) {
            throw DecodingFault("there is not enough memory for it");
        }
        int got = 0;
        while ((got = av_read_frame(format_.get(), packet.get())) >= 0) {
            if (packet->stream_index == stream_->index) {
                feed(packet.get());
            }
            av_packet_unref(packet.get());
        }
        if (got != AVERROR_EOF) {
            throw DecodingFault("it is damaged or was cut short (" + reason(got) + ")");
        }
        feed(nullptr);
        finish();
    }

    void tell(const std::string& fault) const {
        if (!head_sent_) {
            send_head(0, 0, "");
        }
        const wire::BlockHead head{.frames = -1};
        pipe_.write(&head, sizeof head);
        const wire::Fault said{.text = fixed<wire::text_bytes>(fault)};
        pipe_.write(&said, sizeof said);
    }

private:
    void open_file() {
        constexpr int buffer_bytes = 1 << 16;
        auto* buffer = static_cast<unsigned char*>(av_malloc(buffer_bytes));
        io_.reset(avio_alloc_context(buffer, buffer_bytes, 0, &file_, read_file, nullptr, seek_file));
        AVFormatContext* format = avformat_alloc_context();
        if (!io_ || format == nullptr) {
            throw DecodingFault("there is not enough memory for it");
        }
        format->pb = io_.get();
        format->flags |= AVFMT_FLAG_CUSTOM_IO;
        AVDictionary* options = nullptr;
        av_dict_set(&options, "format_whitelist", containers, 0);
        const int opened = avformat_open_input(&format, nullptr, nullptr, &options); // frees `format` when it fails
        av_dict_free(&options);
        if (opened < 0) {
            throw DecodingFault("it is not a sound file that can be read (" + reason(opened) + ")");
        }
        format_.reset(format);
        if (const int found = avformat_find_stream_info(format, nullptr); found < 0) {
            throw DecodingFault("it is not a sound file that can be read (" + reason(found) + ")");
        }
        const int best = av_find_best_stream(format, AVMEDIA_TYPE_AUDIO, -1, -1, nullptr, 0);
        if (best < 0) {
            throw DecodingFault("there is no sound in it, or in a form that is not known here");
        }
        for (unsigned i = 0; i < format->nb_streams; ++i) {
            format->streams[i]->discard = static_cast<int>(i) == best ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
        }
        stream_ = format->streams[best];
    }

    void open_codec() {
        const AVCodec* decoder = avcodec_find_decoder(stream_->codecpar->codec_id);
        codec_.reset(avcodec_alloc_context3(decoder));
        if (decoder == nullptr || !codec_) {
            throw DecodingFault("its sound is in a form that is not known here");
        }
        codec_->thread_count = 1;
        codec_->pkt_timebase = stream_->time_base; // so that samples to be skipped are counted rightly
        if (avcodec_parameters_to_context(codec_.get(), stream_->codecpar) < 0 ||
            avcodec_open2(codec_.get(), decoder, nullptr) < 0) {
            throw DecodingFault("its sound is damaged, or in a form that is not known here");
        }
    }

    void feed(const AVPacket* packet) {
        const int sent = avcodec_send_packet(codec_.get(), packet);
        if (sent < 0 && sent != AVERROR_EOF) {
            throw DecodingFault("it is damaged (" + reason(sent) + ")");
        }
        for (;;) {
            const int got = avcodec_receive_frame(codec_.get(), frame_.get());
            if (got == AVERROR(EAGAIN) || got == AVERROR_EOF) {
                return;
            }
            if (got < 0) {
                throw DecodingFault("it is damaged (" + reason(got) + ")");
            }
            send();
            av_frame_unref(frame_.get());
        }
    }

    void send_head(int rate, int channels, const std::string& codec) const {
        const wire::Head head{
            .mark = wire::mark, .sample_rate_hz = rate, .channels = channels, .codec = fixed<wire::name_bytes>(codec)};
        pipe_.write(&head, sizeof head);
        head_sent_ = true;
    }

    /// The first frame decides rate and channels; one that differs later is not what a recorder writes.
    void begin() {
        rate_ = frame_->sample_rate;
        channels_ = frame_->ch_layout.nb_channels;
        if (channels_ < 1 || channels_ > wire::most_channels) {
            throw DecodingFault("it has " + std::to_string(channels_) + " channels");
        }
        SwrContext* converter = nullptr;
        if (swr_alloc_set_opts2(&converter, &frame_->ch_layout, AV_SAMPLE_FMT_FLT, rate_, &frame_->ch_layout,
                                static_cast<AVSampleFormat>(frame_->format), rate_, 0, nullptr) < 0 ||
            swr_init(converter) < 0) {
            swr_free(&converter);
            throw DecodingFault("its samples are of a kind that is not known here");
        }
        converter_.reset(converter);
        format_of_samples_ = frame_->format;
        expected_ = expected_frames();
        send_head(rate_, channels_, lossy_name(*codec_));
    }

    /// What the edit list leaves, where the container says so to the sample; else nothing.
    [[nodiscard]] std::int64_t expected_frames() const {
        const bool exact = std::string_view(format_->iformat->name).find("mov") != std::string_view::npos;
        if (!exact || stream_->duration == AV_NOPTS_VALUE || stream_->duration <= 0) {
            return 0;
        }
        return av_rescale_q(stream_->duration, stream_->time_base, {1, rate_});
    }

    void send() {
        if (!head_sent_) {
            begin();
        }
        if (frame_->sample_rate != rate_ || frame_->ch_layout.nb_channels != channels_ ||
            frame_->format != format_of_samples_) {
            throw DecodingFault("its rate or its channels change on the way");
        }
        int left = frame_->nb_samples;
        if (expected_ > 0) { // the encoder's padding at the end is no sound
            left = static_cast<int>(std::clamp<std::int64_t>(expected_ - sent_, 0, left));
        }
        samples_.resize(static_cast<std::size_t>(frame_->nb_samples) * static_cast<std::size_t>(channels_));
        auto* out = reinterpret_cast<std::uint8_t*>(samples_.data());
        const int made = swr_convert(converter_.get(), &out, frame_->nb_samples,
                                     const_cast<const std::uint8_t**>(frame_->extended_data), frame_->nb_samples);
        if (made != frame_->nb_samples) {
            throw DecodingFault("its samples cannot be read");
        }
        const float* at = samples_.data();
        sent_ += left;
        while (left > 0) {
            const wire::BlockHead head{.frames = std::min(left, wire::most_frames)};
            const auto values = static_cast<std::size_t>(head.frames) * static_cast<std::size_t>(channels_);
            pipe_.write(&head, sizeof head);
            pipe_.write(at, values * sizeof(float));
            at += values;
            left -= head.frames;
        }
    }

    void finish() const {
        if (!head_sent_) {
            throw DecodingFault("it holds no sound at all");
        }
        // A codec may keep back its last frame; more than that is missing sound.
        const std::int64_t slack = std::max(codec_->frame_size, 2048);
        if (expected_ > 0 && sent_ + slack < expected_) {
            throw DecodingFault("it ends after " + std::to_string(sent_) + " samples though its header says " +
                                std::to_string(expected_) + "; it was cut short or is damaged");
        }
        const wire::BlockHead end{.frames = 0};
        pipe_.write(&end, sizeof end);
    }

    File file_;
    Pipe pipe_;
    std::unique_ptr<AVIOContext, FreeIo> io_;
    std::unique_ptr<AVFormatContext, FreeFormat> format_; // before io_ goes
    AVStream* stream_ = nullptr;
    std::unique_ptr<AVCodecContext, FreeCodec> codec_;
    std::unique_ptr<AVFrame, FreeFrame> frame_;
    std::unique_ptr<SwrContext, FreeConverter> converter_;
    std::vector<float> samples_;
    int rate_ = 0;
    int channels_ = 0;
    int format_of_samples_ = 0;
    std::int64_t expected_ = 0;
    std::int64_t sent_ = 0;
    mutable bool head_sent_ = false;
};

} // namespace

int decode_to_pipe(int file_descriptor, int pipe_descriptor) {
    av_log_set_level(AV_LOG_QUIET);
    Decoding decoding(file_descriptor, pipe_descriptor);
    try {
        decoding.run();
        return 0;
    } catch (const DecodingFault& fault) {
        decoding.tell(fault.what());
    } catch (const std::bad_alloc&) {
        decoding.tell("there is not enough memory for it");
    }
    return 1;
}

} // namespace retap::audio
