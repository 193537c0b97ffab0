// Onsets that lie far before their taps: where the noise swells or a word begins, a pick may take that for the tap.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// All of sound from `from_hz` up, since thumps and hum may be stronger than the taps.
struct StrayOnsetSettings {
    double from_hz = 700.0;
    std::size_t fewest_taps = 3; ///< that say where an onset usually lies
    double furthest_ms = 8.0;    ///< an onset so long before where it usually lies has strayed ..
    double min_jump_db = 10.0;   ///< .. unless the power rises by so much: then it is a knock of its own ..
    double shortly_ms = 5.0;     ///< .. from so long before it to so long after it
    double share = 0.2;          ///< a tap is there when it has had so much of its energy ..
    double longest_ms = 60.0;    ///< .. of which so long from its onset counts
};

/// For each tap of a take: where its onset would lie if it came as long before the tap is there as those of the other
/// taps do in the median; nothing for a tap whose onset has not strayed. Right to a millisecond or so: to be refined
/// (stacked_onsets). Fails where most onsets of a take have strayed; where a loud word begins before the tap, which is
/// taken for a knock; and where noise alone makes the share, from some 20 dB peak over noise down: then a tap keeps its
/// onset.
[[nodiscard]] std::vector<std::optional<Position>> stray_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                                const StrayOnsetSettings& settings);

} // namespace retap::dsp
