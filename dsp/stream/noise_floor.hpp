// How loud it is between events, band by band.
#pragma once

#include "dsp/base/ranked_value.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// Mean noise power per band from a low quantile of the recent past.
///
/// Method: the last `window` energies of each band are kept; the floor is their `quantile`, divided by what that
/// quantile is for Gaussian noise (chi-square with the band's degrees of freedom, Wilson-Hilferty approximation, within
/// 2 % from 4 degrees up). Unbiased for steady noise as long as events fill less than 1 - quantile of the window, by
/// and large; a few dB low when the noise itself swells and sinks within it. Before the window is full the quantile of
/// what there is.
class NoiseFloor {
public:
    struct Settings {
        std::size_t window; ///< energies remembered per band, at least one (asserted)
        double quantile;    ///< of those, the share taken to be noise alone
    };
    /// `freedom`: independent squares averaged in one energy, for each band; at least one band (asserted).
    NoiseFloor(Settings settings, const std::vector<double>& freedom);

    /// One energy per band.
    void push(std::span<const double> energies);
    /// The floor per band; zeros before the first push.
    [[nodiscard]] std::span<const double> levels() const { return levels_; }
    /// Recomputes the floor from what was pushed so far.
    void update();

private:
    Settings settings_;
    std::vector<double> correction_;
    std::vector<std::vector<double>> history_;
    std::size_t next_ = 0;
    std::vector<double> levels_;
    RankedValue ranked_;
};

} // namespace retap::dsp
