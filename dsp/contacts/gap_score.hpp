// Which gaps between two arrivals the differences between taps speak for.
#pragma once

#include "dsp/contacts/tap_spectra.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

/// Gaps sought, on both sides of 0, both ends included.
struct GapSearch {
    double shortest_ms = 0.23;
    double longest_ms = 1.7;
    double step_ms = 0.02; ///< a quarter of what one gap's promise is wide
};

/// What one gap would explain.
struct GapPromise {
    double gap_ms = 0.0;    ///< from the stronger arrival to the weaker one; negative: the weaker one comes first
    double ratio = 0.0;     ///< the better of two that are tried
    double explained = 0.0; ///< share of the differences between the taps, 0..1
};

/// For each gap what a small shift of the weaker arrival, another for each tap, and a small change of its strength
/// would explain of the way the taps differ. `aligned` are the taps with delay and level undone (asserted: some). Two
/// arbitrary directions explain about 1 / (number of frequencies) by chance, the best of all gaps three times that.
///
/// A score test: with the taps' mean m = k (1 + a z), z = exp(-i w gap), the weaker arrival in it is m a z / (1 + a z),
/// and small changes of its time and strength go along that and its derivative. Delay and level of the whole tap are
/// taken off first. Shifts of more than a quarter of a period are no small ones; what a gap promises falls off with
/// them.
[[nodiscard]] std::vector<GapPromise> score_gaps(const TapSpectra& aligned, const GapSearch& search);

} // namespace retap::dsp
