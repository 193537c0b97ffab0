// How the contacts of one tap land, told by the other taps: what the sound itself is like cancels.
#pragma once

#include "dsp/tap_sound.hpp"
#include "dsp/units.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace retap::dsp {

struct LandingSettings {
    double before_ms = 2.0;  ///< of a tap's sound, from so long before its onset
    double after_ms = 20.0;  ///< to so long after it; what rings later adds noise and nothing else
    double fade_in_ms = 0.5; ///< so that the cut does not click
    double fade_out_ms = 5.0;
    double noise_part = 5.0;       ///< a frequency counts in full where the tap is this many times over the noise
    double deepest_db = 60.0;      ///< so far under a tap's strongest frequency nothing is told from leakage
    double full_to_hz = 14000.0;   ///< frequencies up to here count in full
    double none_from_hz = 18000.0; ///< and from here not at all: what a copy at a lower rate may have lost
    double guard_ms = 2.0;         ///< the noise is measured up to so long before the onset
    double search_ms = 5.0;        ///< two taps' main impacts are aligned within this
    double peak_blur_ms = 0.0625;  ///< standard deviation of the smoothing by which the alignment is found
    double blur_ms = 0.083;        ///< and of the energy read at the lags: about the resolution of an 8 kHz band
    double share_ms = 5.0;         ///< energy within so much of the alignment counts as 1
    double same_tap = 0.99; ///< correlation of phases from which two sounds are copies of one tap; others reach 0.96
    /// Density (per ms) that is added before the logarithm. What two taps share by chance lies at 0.05 to 0.1, and how
    /// deep its gaps go says nothing.
    double chance_density = 0.02;
};

/// Lags at which a landing is described, ms; negative: before the main impact. Close where contacts of a balanced bite
/// are, wider where a slide or a rebound would be. 25 um high at 20 to 200 mm/s is 0.125 to 1.25 ms.
inline constexpr std::array<double, 29> landing_lags_ms{-4.0,  -3.0,  -2.4,  -1.9,  -1.5, -1.2, -1.0, -0.8, -0.65, -0.5,
                                                        -0.38, -0.27, -0.17, -0.08, 0.0,  0.08, 0.17, 0.27, 0.38,  0.5,
                                                        0.65,  0.8,   1.0,   1.3,   1.7,  2.2,  3.0,  4.0,  5.5};

/// For every ordered pair of taps how the energy of one stands around the main impact of the other.
class LandingTable {
public:
    explicit LandingTable(std::size_t taps)
        : taps_(taps), db_(taps * taps * landing_lags_ms.size(), 0.0F), known_(taps * taps, false) {}

    [[nodiscard]] std::size_t taps() const { return taps_; }
    /// Whether tap `of` can be seen against tap `against`: not against itself, nor against a copy of itself, which
    /// would show a tap of one contact whatever it was.
    [[nodiscard]] bool known(std::size_t of, std::size_t against) const { return known_[of * taps_ + against]; }
    void set_known(std::size_t of, std::size_t against) { known_[of * taps_ + against] = true; }
    /// Energy density (dB re all of it within a millisecond) at each lag; zeros where nothing is known.
    [[nodiscard]] std::span<const float> row(std::size_t of, std::size_t against) const {
        return std::span(db_).subspan((of * taps_ + against) * landing_lags_ms.size(), landing_lags_ms.size());
    }
    [[nodiscard]] std::span<float> row(std::size_t of, std::size_t against) {
        return std::span(db_).subspan((of * taps_ + against) * landing_lags_ms.size(), landing_lags_ms.size());
    }

private:
    std::size_t taps_;
    std::vector<float> db_;
    std::vector<bool> known_;
};

/// Taps prepared for being related: whitened once, related as often as wanted.
///
/// Method: the phase-only cross-correlation (PHAT; Knapp CH, Carter GC 1976, IEEE Trans ASSP 24:320-327) of two taps.
/// Each tap is the same impact sound heard once per contact; the correlation of two taps keeps how their contacts lie
/// in time and loses what they share, which is how the impact sounds: kernel, room and pick-up, whatever their phase. A
/// light contact beside the main impact shows as energy at its distance, to first order on both sides. Frequencies in
/// the noise count little. No onset is needed beyond where to cut. Gain, polarity, offset and delay have no effect; a
/// filter that only one take went through (a re-seated pick-up) moves only what crosses between takes. Fails where taps
/// share little: a tonal sound that leaves a narrow band (lags under about 1/B blur), or contacts that each sound quite
/// different.
///
/// Not for two threads at once; give each a copy.
class LandingSounds {
public:
    /// Taps with the same number in `take` were recorded together and share their noise. Same lengths (asserted).
    LandingSounds(std::span<const TapSound> taps, std::span<const std::size_t> take, SampleRate rate,
                  const LandingSettings& settings = {});
    ~LandingSounds();
    LandingSounds(const LandingSounds& other);
    LandingSounds& operator=(const LandingSounds& other);
    LandingSounds(LandingSounds&&) noexcept;
    LandingSounds& operator=(LandingSounds&&) noexcept;

    [[nodiscard]] std::size_t taps() const;
    [[nodiscard]] std::size_t bins() const; ///< frequencies from 0 to half the rate, evenly

    [[nodiscard]] LandingTable relate();

    /// For each tap the sample of it at which its main impact stands, up to a shift common to all taps: each pair of
    /// taps is laid over each other where their correlation peaks, and each tap where most of the others say. relate()
    /// comes first (asserted).
    [[nodiscard]] std::vector<double> main_impacts() const;

    /// What relate() would give had every tap with a 1 in `recoloured` gone through a further filter, of which the
    /// phase is given at each frequency (radians, bins() of them; asserted). Taps of which both or neither went through
    /// it relate as they did, and their rows are taken from `plain`, which is relate()'s. Main impacts are looked for
    /// within a fifth of a millisecond of where they were: a filter that moves a sound further is not a pick-up's.
    [[nodiscard]] LandingTable relate_recoloured(const LandingTable& plain, std::span<const char> recoloured,
                                                 std::span<const float> phase);

private:
    class Relating;
    std::unique_ptr<Relating> relating_;
};

} // namespace retap::dsp
