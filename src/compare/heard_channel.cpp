#include "compare/heard_channel.hpp"

#include "dsp/base/quiet.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace retap::compare {
namespace {

/// By how much a tap stands over the quiet before its onset; 0 where there is no quiet, or no tap.
double over_quiet_db(std::span<const float> sound, double onset_index) {
    const dsp::SampleRate rate(dsp::analysis_rate_hz);
    const auto quiet = dsp::quiet_before(sound, dsp::Position(onset_index), dsp::Length::from_ms(1.0, rate));
    const double before = dsp::mean_square(quiet);
    const double after = dsp::mean_square(sound.subspan(quiet.size()));
    constexpr double least = 1e-16; // digital silence
    return !quiet.empty() && after > 0.0 ? 10.0 * std::log10(after / std::max(before, least)) : 0.0;
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
