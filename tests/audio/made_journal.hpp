// Journals that the tests of this folder finish and recover.
#pragma once

#include "audio/journal.hpp"

#include <cstddef>
#include <filesystem>
#include <random>
#include <vector>

namespace retap::test {

/// Samples that 24 bits hold exactly, so that takes can be compared for equality.
inline std::vector<float> exact_samples(std::size_t count, unsigned seed = 3) {
    std::mt19937 random(seed);
    std::vector<float> samples(count);
    for (float& sample : samples) {
        sample = (static_cast<float>(random() % 16777216U) - 8388608.0F) / 8388608.0F;
    }
    return samples;
}

inline audio::JournalHead head_for(const std::filesystem::path& destination, const std::string& take_id = "cafe",
                                   int channels = 1) {
    return {.take_id = take_id,
            .destination = destination,
            .format = {.sample_rate_hz = 44100.0, .channels = channels},
            .device = "Pick-up",
            .started = "2031-05-14 10:32:07",
            .keep_all = false};
}

} // namespace retap::test
