// The taps of both sides as the methods of the comparison take them.
#pragma once

#include "compare/heard_channel.hpp"
#include "dsp/base/take.hpp"
#include "dsp/base/tap_sound.hpp"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace retap::compare {

/// Taps that could be used before and after.
using TapCounts = std::array<std::size_t, 2>;

/// One entry a tap in each list, in one order whichever side is called the first, so that swapping them changes
/// nothing but the numbers in `side`. Sounds are those of the analyses, which must outlive this.
struct ComparedTaps {
    std::vector<const dsp::Tap*> taps;
    std::vector<dsp::TapSound> sounds;
    std::vector<std::size_t> side; ///< 0 before, 1 after
    std::vector<std::size_t> take; ///< counts through both sides
    TapCounts counts{};
};

/// The usable taps of which the sound is kept; of a take with more than `most` as many, evenly over it. Of two
/// channels the one that hears the taps better (heard_channel).
[[nodiscard]] ComparedTaps compared_taps(std::span<const dsp::TakeAnalysis> before,
                                         std::span<const dsp::TakeAnalysis> after, std::size_t most);

} // namespace retap::compare
