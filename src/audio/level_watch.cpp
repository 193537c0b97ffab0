#include "audio/level_watch.hpp"

#include "dsp/base/units.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>

namespace retap::audio {
namespace {

constexpr std::size_t remembered_blocks = 300;
constexpr std::size_t min_blocks = 20; // before it is known what is loud
constexpr double noise_quantile = 0.2;
constexpr double digital_silence = 1e-16; // far below the last bit of 24
constexpr double loud_ratio = 10.0;
constexpr double min_loud_power = 1e-8;
constexpr double surely_a_sound = 1e-5;
constexpr double burst_pause_s = 0.060;
constexpr double corner_hz = 150.0;

} // namespace

LevelWatch::LevelWatch(StreamFormat format)
    : channels_(static_cast<std::size_t>(format.channels)),
      block_frames_(static_cast<std::size_t>(std::lround(block_s * format.sample_rate_hz))),
      keep_(std::exp(-2.0 * std::numbers::pi * corner_hz / format.sample_rate_hz)), before_(channels_),
      passed_(channels_) {}

void LevelWatch::feed(std::span<const float> interleaved) {
    assert(interleaved.size() % channels_ == 0);
    for (std::size_t at = 0; at < interleaved.size(); at += channels_) {
        for (std::size_t channel = 0; channel < channels_; ++channel) {
            const float sample = interleaved[at + channel];
            const auto value = static_cast<double>(sample);
            passed_[channel] = keep_ * (passed_[channel] + value - before_[channel]);
            before_[channel] = value;
            running_.power += passed_[channel] * passed_[channel];
            running_.peak = std::max(running_.peak, std::abs(sample));
        }
        if (++filled_ == block_frames_) {
            end_block();
        }
    }
}

void LevelWatch::end_block() {
    running_.power /= static_cast<double>(block_frames_ * channels_);
    ++blocks_;
    sounding_ += running_.power > digital_silence ? 1U : 0U;
    if (sounding_ >= min_blocks && running_.power > std::max(loud_ratio * noise_power(), min_loud_power)) {
        const double began_s = now_s() - block_s;
        if (last_loud_s_ == 0.0 || began_s - last_loud_s_ > burst_pause_s) {
            burst_began_s_ = began_s;
        }
        last_loud_s_ = now_s();
        running_.loud = true;
    }
    if (running_.loud || (sounding_ < min_blocks && running_.power > surely_a_sound)) {
        last_rise_s_ = now_s();
    }
    recent_.push_back(running_);
    if (recent_.size() > remembered_blocks) {
        recent_.pop_front();
    }
    running_ = {};
    filled_ = 0;
}

double LevelWatch::noise_power() const {
    sorted_.clear();
    for (const Block& block : recent_) {
        if (block.power > digital_silence) {
            sorted_.push_back(block.power);
        }
    }
    if (sorted_.empty()) {
        return 0.0;
    }
    const auto at = static_cast<std::ptrdiff_t>(noise_quantile * static_cast<double>(sorted_.size()));
    std::nth_element(sorted_.begin(), sorted_.begin() + at, sorted_.end());
    return sorted_[static_cast<std::size_t>(at)];
}

double LevelWatch::noise_dbfs() const {
    return dsp::Level::from_power(noise_power()).db();
}

double LevelWatch::loud_share(double seconds) const {
    const auto blocks = static_cast<std::size_t>(std::lround(seconds / block_s));
    const auto known = static_cast<std::ptrdiff_t>(std::min(blocks, recent_.size()));
    const auto loud =
        std::count_if(recent_.end() - known, recent_.end(), [](const Block& block) { return block.loud; });
    return static_cast<double>(loud) / static_cast<double>(blocks);
}

double LevelWatch::peak_dbfs() const {
    return peak_dbfs(now_s() - 0.05, now_s());
}

double LevelWatch::peak_dbfs(double from_s, double to_s) const {
    float peak = 0.0F;
    double end_s = now_s() - block_s * static_cast<double>(recent_.size());
    for (const Block& block : recent_) {
        const double begin_s = end_s;
        end_s += block_s;
        if (end_s > from_s && begin_s < to_s) {
            peak = std::max(peak, block.peak);
        }
    }
    return dsp::Level::from_amplitude(static_cast<double>(peak)).db();
}

} // namespace retap::audio
