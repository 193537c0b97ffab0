#include "compare/heard_channel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <vector>

namespace retap::compare {
namespace {

double mean_square(std::span<const float> x) {
    const auto add = [](double sum, float v) { return sum + static_cast<double>(v) * static_cast<double>(v); };
    return x.empty() ? 0.0 : std::accumulate(x.begin(), x.end(), 0.0, add) / static_cast<double>(x.size());
}

/// By how much a tap stands over the quiet before its onset; 0 where there is no quiet, or no tap.
double over_quiet_db(const std::vector<float>& sound, double onset_index) {
    constexpr double clear = 48.0; // samples before the onset: 1 ms
    const auto size = static_cast<double>(sound.size());
    const auto quiet = static_cast<std::size_t>(std::clamp(onset_index - clear, 0.0, size));
    const double before = mean_square(std::span(sound).first(quiet));
    const double after = mean_square(std::span(sound).subspan(quiet));
    constexpr double least = 1e-16; // digital silence
    return quiet > 0 && after > 0.0 ? 10.0 * std::log10(after / std::max(before, least)) : 0.0;
}

} // namespace

HeardChannel heard_channel(std::span<const dsp::TakeAnalysis> before, std::span<const dsp::TakeAnalysis> after) {
    std::array<double, 2> sums{};
    for (const auto& takes : {before, after}) {
        for (const dsp::TakeAnalysis& take : takes) {
            for (const dsp::Tap& tap : take.taps) {
                if (!tap.usable || tap.excerpt.samples.empty()) {
                    continue;
                }
                for (std::size_t side = 0; side < 2; ++side) {
                    const std::vector<float>& sound = tap.excerpt.sides.at(side);
                    if (sound.empty()) {
                        return HeardChannel::mean;
                    }
                    sums.at(side) += over_quiet_db(sound, tap.excerpt.onset_index);
                }
            }
        }
    }
    return sums[1] > sums[0] ? HeardChannel::right : HeardChannel::left;
}

std::span<const float> sound_in(const dsp::Excerpt& excerpt, HeardChannel channel) {
    switch (channel) {
    case HeardChannel::left:
        return excerpt.sides[0];
    case HeardChannel::right:
        return excerpt.sides[1];
    case HeardChannel::mean:
        break;
    }
    return excerpt.samples;
}

} // namespace retap::compare
