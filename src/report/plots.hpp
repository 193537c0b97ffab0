// The three plots, as inline SVG without colours of their own: style.css gives them, so that one drawing serves screen,
// dark screen and paper. Before and after differ by place, line style and marker, not by colour alone.
#pragma once

#include "dsp/base/take.hpp"

#include <string>

namespace retap::report {

/// What the two sides are called in a drawing.
struct SideNames {
    std::string before = "Before";
    std::string after = "After";
};

/// The usable taps of both takes laid over each other from their onsets: before upwards, after mirrored downwards, each
/// scaled to its own loudest moment, the median heavy. Drawn from Tap::excerpt: root mean square over 0.25 ms, which
/// is also what blurs it. Empty when neither side has a usable tap with an excerpt.
[[nodiscard]] std::string taps_plot(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after,
                                    const SideNames& names = {});
/// One take by itself, upwards.
[[nodiscard]] std::string taps_plot(const dsp::TakeAnalysis& take);

/// One row per usable tap with a marker at each contact, its size by strength, and the middle spread of each side.
/// At most 12 rows a side. Empty when there is nothing to show.
[[nodiscard]] std::string contacts_plot(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after);
[[nodiscard]] std::string contacts_plot(const dsp::TakeAnalysis& take);

/// Median third-octave levels of both takes, each relative to its own strongest band (level does not decide). Empty
/// when no side has bands.
[[nodiscard]] std::string bands_plot(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after);
[[nodiscard]] std::string bands_plot(const dsp::TakeAnalysis& take);

} // namespace retap::report
