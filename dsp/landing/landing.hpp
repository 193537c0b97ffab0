// How the contacts of one tap land, told by the other taps: what the sound itself is like cancels.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"
#include "dsp/landing/gcc_phat.hpp"
#include "dsp/landing/phat_profile.hpp"
#include "dsp/landing/settings.hpp"
#include "dsp/landing/whitening.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// For every ordered pair of taps how the energy of one stands around the main impact of the other.
class LandingTable {
public:
    explicit LandingTable(std::size_t taps) : taps_(taps), rows_(taps * taps), known_(taps * taps, false) {}

    [[nodiscard]] std::size_t taps() const { return taps_; }
    /// Whether tap `of` can be seen against tap `against`: not against itself, nor against a copy of itself, which
    /// would show a tap of one contact whatever it was.
    [[nodiscard]] bool known(std::size_t of, std::size_t against) const { return known_[of * taps_ + against]; }
    /// Zeros where nothing is known.
    [[nodiscard]] const PhatProfile& row(std::size_t of, std::size_t against) const {
        return rows_[of * taps_ + against];
    }
    /// Of both orders: `rows.forth` is that of tap `of` against tap `against`.
    void set(std::size_t of, std::size_t against, const PhatProfilePair& rows) {
        rows_[of * taps_ + against] = rows.forth;
        rows_[against * taps_ + of] = rows.back;
        known_[of * taps_ + against] = known_[against * taps_ + of] = true;
    }

private:
    std::size_t taps_;
    std::vector<PhatProfile> rows_;
    std::vector<bool> known_;
};

/// Taps prepared for being related: whitened once, related as often as wanted.
///
/// Method: the taps are whitened (whitened_taps), each pair correlated by its phases (GccPhat), and the energy
/// about the strongest peak read at fixed lags (PhatProfileReader). Each tap is the same impact sound heard once per
/// contact; the correlation of two taps keeps how their contacts lie in time and loses what they share, which is how
/// the impact sounds: kernel, room and pick-up, whatever their phase. A light contact beside the main impact shows as
/// energy at its distance, to first order on both sides. Frequencies in the noise count little. No onset is needed
/// beyond where to cut. Gain, polarity, offset and delay have no effect; a filter that only one take went through (a
/// re-seated pick-up) moves only what crosses between takes. Fails where taps share little: a tonal sound that leaves a
/// narrow band (lags under about 1/B blur), or contacts that each sound quite different.
///
/// Not for two threads at once; give each a copy.
class LandingSounds {
public:
    /// Taps with the same number in `take` were recorded together and share their noise. Same lengths (asserted).
    LandingSounds(std::span<const TapSound> taps, std::span<const std::size_t> take, SampleRate rate,
                  const LandingSettings& settings = {});

    [[nodiscard]] std::size_t taps() const { return spectra_.size(); }
    [[nodiscard]] std::size_t bins() const { return correlation_.bins(); } ///< from 0 to half the rate, evenly

    [[nodiscard]] LandingTable relate();

    /// For each tap the sample of it at which its main impact stands, up to a shift common to all taps: each pair of
    /// taps is laid over each other where their correlation peaks, and each tap where most of the others say
    /// (consensus_delays). relate() comes first (asserted).
    [[nodiscard]] std::vector<double> main_impacts() const;

    /// What relate() would give had every tap with a 1 in `recoloured` gone through a further filter, of which the
    /// phase is given at each frequency (radians, bins() of them; asserted). Taps of which both or neither went through
    /// it relate as they did, and their rows are taken from `plain`, which is relate()'s. Main impacts are looked for
    /// within a fifth of a millisecond of where they were: a filter that moves a sound further is not a pick-up's.
    [[nodiscard]] LandingTable relate_recoloured(const LandingTable& plain, std::span<const char> recoloured,
                                                 std::span<const float> phase);

private:
    std::ptrdiff_t search_; ///< samples
    std::ptrdiff_t near_;
    double same_tap_;
    GccPhat correlation_;
    PhatProfileReader reader_;
    std::vector<WhiteSpectrum> spectra_;
    std::vector<double> cut_at_;        ///< the sample of each tap from which its lags count
    std::vector<std::ptrdiff_t> peaks_; ///< where the main impacts of each pair met in relate() ..
    std::vector<double> apart_;         ///< .. and the same between samples
};

} // namespace retap::dsp
