// The loudness course of a tap around its onset, for drawing.
#pragma once

#include "dsp/base/take.hpp"

#include <cstddef>
#include <vector>

namespace retap::report {

/// What part of a tap is drawn, and how finely.
struct EnvelopeWindow {
    double from_ms = -1.0;
    double to_ms = 12.0;
    double step_ms = 0.05;
    double smoothing_ms = 0.25; ///< length of the root-mean-square window, centred

    [[nodiscard]] std::size_t points() const;
    [[nodiscard]] double at_ms(std::size_t point) const { return from_ms + static_cast<double>(point) * step_ms; }
};

/// Root mean square of the excerpt around each drawn moment, divided by its largest value, so that the force of a tap
/// drops out. Moments outside the excerpt are 0. Empty for an excerpt that is empty or silent. Excerpts are at
/// dsp::analysis_rate_hz.
[[nodiscard]] std::vector<double> tap_envelope(const dsp::Excerpt& excerpt, const EnvelopeWindow& window);

/// Median of each point over curves of equal length; empty without curves.
[[nodiscard]] std::vector<double> median_curve(const std::vector<std::vector<double>>& curves);

} // namespace retap::report
