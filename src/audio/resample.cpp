#include "audio/resample.hpp"

#include <cassert>
#include <cmath>
#include <cstddef>
#include <samplerate.h>
#include <stdexcept>
#include <string>

namespace retap::audio {
namespace {

struct ConverterCloser {
    void operator()(SRC_STATE* converter) const { src_delete(converter); }
};

} // namespace

struct Resampler::State {
    int channels = 1;
    double ratio = 1.0;
    std::unique_ptr<SRC_STATE, ConverterCloser> converter; // none when the rates are equal
    std::vector<float> out;

    std::span<const float> run(std::span<const float> interleaved, bool last);
};

std::span<const float> Resampler::State::run(std::span<const float> interleaved, bool last) {
    const auto width = static_cast<std::size_t>(channels);
    assert(interleaved.size() % width == 0);
    const auto in_frames = static_cast<long>(interleaved.size() / width);
    constexpr long chunk_frames = 4096;
    std::size_t filled = 0;
    SRC_DATA data{};
    const float nothing = 0.0F; // libsamplerate gives out its tail only when the input is not null, however empty
    data.data_in = interleaved.empty() ? &nothing : interleaved.data();
    data.input_frames = in_frames;
    data.end_of_input = last ? 1 : 0;
    data.src_ratio = ratio;
    for (;;) {
        out.resize(filled + static_cast<std::size_t>(chunk_frames) * width);
        data.data_out = out.data() + filled;
        data.output_frames = chunk_frames;
        if (const int fault = src_process(converter.get(), &data); fault != 0) {
            throw std::runtime_error(std::string("libsamplerate failed: ") + src_strerror(fault));
        }
        filled += static_cast<std::size_t>(data.output_frames_gen) * width;
        data.data_in += data.input_frames_used * channels;
        data.input_frames -= data.input_frames_used;
        if (data.output_frames_gen < chunk_frames && data.input_frames == 0) {
            return std::span<const float>(out).first(filled);
        }
    }
}

Resampler::Resampler(int channels, double from_hz, double to_hz) : state_(std::make_unique<State>()) {
    assert(channels >= 1 && from_hz > 0.0 && to_hz > 0.0);
    state_->channels = channels;
    state_->ratio = to_hz / from_hz;
    assert(src_is_valid_ratio(state_->ratio) != 0);
    if (from_hz != to_hz) {
        int fault = 0;
        state_->converter.reset(src_new(SRC_SINC_MEDIUM_QUALITY, channels, &fault));
        if (!state_->converter) {
            throw std::runtime_error(std::string("libsamplerate failed: ") + src_strerror(fault));
        }
    }
}

Resampler::~Resampler() = default;
Resampler::Resampler(Resampler&&) noexcept = default;
Resampler& Resampler::operator=(Resampler&&) noexcept = default;

std::span<const float> Resampler::process(std::span<const float> interleaved) {
    return state_->converter ? state_->run(interleaved, false) : interleaved;
}

std::span<const float> Resampler::finish() {
    return state_->converter ? state_->run({}, true) : std::span<const float>{};
}

} // namespace retap::audio
