// Onsets that lie far before their taps: where the noise swells or a word begins, a pick may take that for the tap.
#pragma once

#include "dsp/tap_sound.hpp"
#include "dsp/units.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

struct StrayOnsetSettings {
    std::size_t fewest_taps = 3; ///< that say where an onset usually lies
    double furthest_ms = 8.0;    ///< before where it usually lies; a first contact may lead by some 7 ms
    double longest_ms = 60.0;    ///< from an onset to the loudest instant of its tap
};

/// For each tap of a take: where its onset would lie if it came as long before the tap's loudest instant as those of
/// the other taps do in the median; nothing for a tap whose onset is no more than `furthest_ms` ahead of that. Right to
/// a millisecond or so, as much as loudest instants scatter: to be refined (pooled_onsets). Fails where most onsets
/// of a take have strayed.
[[nodiscard]] std::vector<std::optional<Position>> stray_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                                const StrayOnsetSettings& settings = {});

} // namespace retap::dsp
