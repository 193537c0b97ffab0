// The one picture of a comparison: the taps before above, after below, over time from the main impact, in levels.
#pragma once

#include "compare/comparison.hpp"
#include "report/plots.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::report {

/// Which part of the taps is drawn, in ms from the main impact.
struct PictureRange {
    double from_ms = -5.0;
    double to_ms = 7.0;
};
/// The whole that can be looked at; what is asked for is kept inside it and at least 0.5 ms wide.
inline constexpr PictureRange picture_whole{.from_ms = -10.0, .to_ms = 12.0};
[[nodiscard]] PictureRange inside(PictureRange range);

/// One side of the picture, in steps of `picture_step_ms` over `picture_whole`.
struct PictureSide {
    std::vector<double> level_db;  ///< mean level of the taps, each relative to its loudest moment; empty without taps
    std::optional<double> lead_ms; ///< by how much the first sound comes before the main impact, as was compared
    std::optional<double> second_ms; ///< a second contact that was told apart in most taps, after the first sound
    double example_s = 0.0;          ///< where in the recording the main impact of a usual tap stands
};
inline constexpr double picture_step_ms = 0.05;
inline constexpr double picture_floor_db = -50.0; ///< what is fainter is not drawn

/// Method: the level of each usable tap (root mean square over 0.15 ms, in the band in which the first sound is looked
/// for) is laid over the others' by its loudest moment,
/// and the mean of the decibels taken, so that one tap with an early click counts little. The lead is the comparison's
/// own measure, not read off these curves. Where two contacts of a tap are equally loud the curves of its side smear.
[[nodiscard]] PictureSide picture_side(const dsp::TakeAnalysis& take);

struct TapPicture {
    PictureSide before;
    PictureSide after;
};
[[nodiscard]] TapPicture picture_of(const compare::Comparison& comparison);

/// The drawing. Empty when neither side has a tap to draw. Its left and right end, as `data-left` and `data-right`, let
/// a script find a time in it.
[[nodiscard]] std::string draw(const TapPicture& picture, PictureRange range = {}, const SideNames& names = {});

/// What was found, as a sketch with its words: an earlier first contact, one that is gone, a second contact that
/// follows, a slide, a contact that stands alone. Empty when nothing of that kind was told.
[[nodiscard]] std::string finding_sketches(const compare::Comparison& comparison);

} // namespace retap::report
