// Sinks that remember what they were given.
#pragma once

#include "audio/keeper.hpp"
#include "audio/sound_sink.hpp"

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace retap::test {

struct SeenGap {
    std::uint64_t at_sample = 0; ///< samples seen before it
    std::uint64_t lost_frames = 0;
    bool operator==(const SeenGap&) const = default;
};

class SeenSound : public audio::SoundSink {
public:
    void block(std::span<const float> interleaved) override {
        samples.insert(samples.end(), interleaved.begin(), interleaved.end());
    }
    void gap(std::uint64_t lost_frames) override {
        gaps.push_back({.at_sample = samples.size(), .lost_frames = lost_frames});
    }

    std::vector<float> samples;
    std::vector<SeenGap> gaps;
};

/// Joins what follows without a jump into one part.
class SeenKept : public audio::KeptSound {
public:
    struct Part {
        std::uint64_t position = 0;
        std::vector<float> samples;
    };

    explicit SeenKept(std::size_t channels = 1) : channels_(channels) {}
    void samples(std::uint64_t position, std::span<const float> interleaved) override {
        if (parts.empty() || parts.back().position + parts.back().samples.size() / channels_ != position) {
            parts.push_back({.position = position, .samples = {}});
        }
        parts.back().samples.insert(parts.back().samples.end(), interleaved.begin(), interleaved.end());
    }
    void gap(std::uint64_t position, std::uint64_t lost_frames) override { gaps.emplace_back(position, lost_frames); }

    std::vector<Part> parts;
    std::vector<std::pair<std::uint64_t, std::uint64_t>> gaps;

private:
    std::size_t channels_;
};

} // namespace retap::test
