#include "audio/playback.hpp"

#include "audio/resample.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <thread>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

constexpr std::chrono::milliseconds stall_limit{2000}; // a device buffers ahead and need not ask often

std::vector<float> at_rate(const Sound& take, double rate_hz) {
    Resampler resampler(take.channels, take.sample_rate_hz, rate_hz);
    const auto body = resampler.process(take.interleaved);
    std::vector<float> out(body.begin(), body.end());
    const auto rest = resampler.finish();
    out.insert(out.end(), rest.begin(), rest.end());
    return out;
}

std::vector<float> with_channels(std::vector<float> samples, int from, int to) {
    if (from == to) {
        return samples;
    }
    std::vector<float> out;
    out.reserve(samples.size() * static_cast<std::size_t>(to) / static_cast<std::size_t>(from));
    for (std::size_t i = 0; i < samples.size(); i += static_cast<std::size_t>(from)) {
        const float mean = from == 1 ? samples[i] : 0.5F * (samples[i] + samples[i + 1]);
        out.insert(out.end(), static_cast<std::size_t>(to), mean);
    }
    return out;
}

} // namespace

PlayPlan plan_playback(std::span<const Sound> takes, StreamFormat format, const PlaySettings& settings) {
    const auto channels = static_cast<std::size_t>(format.channels);
    const auto pause = static_cast<std::size_t>(std::lround(settings.pause_s * format.sample_rate_hz));
    std::vector<std::vector<float>> laid_out;
    for (const Sound& take : takes) {
        laid_out.push_back(with_channels(at_rate(take, format.sample_rate_hz), take.channels, format.channels));
    }
    PlayPlan plan{.format = format};
    for (int round = 0; round < settings.times; ++round) {
        for (std::size_t take = 0; take < laid_out.size(); ++take) {
            if (!plan.parts.empty()) {
                plan.samples.insert(plan.samples.end(), pause * channels, 0.0F);
            }
            const std::size_t begin = plan.samples.size() / channels;
            plan.samples.insert(plan.samples.end(), laid_out[take].begin(), laid_out[take].end());
            plan.parts.push_back({.take = take, .begin_frame = begin, .end_frame = plan.samples.size() / channels});
        }
    }
    return plan;
}

StreamFormat choose_play_format(const SoundSystem& system, const Device& device, const Sound& first) {
    const std::array rates = {first.sample_rate_hz, 48000.0, 44100.0, 96000.0};
    const std::array channels = {first.channels, 2, 1};
    for (const double rate : rates) {
        for (const int count : channels) {
            const StreamFormat format{.sample_rate_hz = rate, .channels = count};
            if (system.accepts(device, Direction::output, format)) {
                return format;
            }
        }
    }
    throw DeviceError("Cannot play on '" + device.name +
                      "': it refuses every rate that was tried. Another program may be using it; close that, or choose "
                      "another with --device.");
}

Player::Player(std::shared_ptr<SoundSystem> system, const Device& device, PlayPlan plan)
    : system_(std::move(system)), device_(device), parts_(std::move(plan.parts)),
      frames_(plan.samples.size() / static_cast<std::size_t>(plan.format.channels)),
      stream_(device, plan.format, std::make_shared<const std::vector<float>>(std::move(plan.samples))) {}

std::optional<std::size_t> Player::take_now() const {
    const std::size_t at = stream_.position();
    const auto part =
        std::find_if(parts_.begin(), parts_.end(), [&](const PlayPlan::Part& p) { return at < p.end_frame; });
    return part != parts_.end() && at >= part->begin_frame ? std::optional(part->take) : std::nullopt;
}

bool Player::wait_for(std::chrono::milliseconds time) {
    const auto until = std::chrono::steady_clock::now() + time;
    while (!stream_.finished()) {
        const auto now = std::chrono::steady_clock::now();
        if (stream_.position() != moved_to_) {
            moved_to_ = stream_.position();
            moved_at_ = now;
        }
        if (now - moved_at_ > stall_limit && moved_to_ < frames_) {
            throw DeviceError("The device '" + device_.name + "' has stopped playing. Try again, or choose another.");
        }
        if (now >= until) {
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    if (stream_.position() < frames_) {
        throw DeviceError("The device '" + device_.name + "' is gone: unplugged, or its sound server ended.");
    }
    return true;
}

} // namespace retap::audio
