#include "dsp/stray_onsets.hpp"

#include "dsp/mean.hpp"
#include "dsp/robust.hpp"

#include <algorithm>
#include <cmath>

namespace retap::dsp {
namespace {

/// From a tap's onset to its loudest sample.
Length climb(const TapSound& tap, SampleRate rate, const StrayOnsetSettings& settings) {
    const auto size = static_cast<double>(tap.samples.size());
    const auto first = static_cast<std::size_t>(std::clamp(tap.onset.samples(), 0.0, size));
    const double end = (tap.onset + Length::from_ms(settings.longest_ms, rate)).samples();
    const auto last = static_cast<std::size_t>(std::clamp(end, static_cast<double>(first), size));
    const double offset = mean(tap.samples.first(first));
    const auto sound = tap.samples.subspan(first, last - first);
    const auto loudest =
        std::ranges::max_element(sound, {}, [offset](float v) { return std::abs(static_cast<double>(v) - offset); });
    return Length(static_cast<double>(loudest - sound.begin()));
}

} // namespace

std::vector<std::optional<Position>> stray_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                  const StrayOnsetSettings& settings) {
    std::vector<std::optional<Position>> moved(taps.size());
    if (taps.size() < settings.fewest_taps) {
        return moved;
    }
    std::vector<double> climbs;
    for (const TapSound& tap : taps) {
        climbs.push_back(climb(tap, rate, settings).samples());
    }
    const double usual = median(climbs);
    const double furthest = Length::from_ms(settings.furthest_ms, rate).samples();
    for (std::size_t i = 0; i < taps.size(); ++i) {
        if (climbs[i] > usual + furthest) {
            moved[i] = taps[i].onset + Length(climbs[i] - usual);
        }
    }
    return moved;
}

} // namespace retap::dsp
