// Splits sound into octave bands by halving: the cheap look at everything that decides where to look closely.
#pragma once

#include "dsp/units.hpp"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// Mean-square energy of each octave band over successive frames.
///
/// Method: a tree of half-band splits. Each split is the fifth-order Butterworth half-band pair written as two all-pass
/// branches on alternate samples; its poles lie on the imaginary axis at radius tan(pi m / 10), m = 1, 2 (bilinear
/// transform of the Butterworth circle), so there is nothing to design. Low and high halves are power complementary:
/// the band energies add up to that of the input, whatever it is.
/// Bands: level k holds rate/2^(k+1) to rate/2^k; the last one, index 0, holds everything below, hum and offset
/// included. Delay of the low half of one split: 1.618 of its input samples for low frequencies (delay()). Edges are
/// those of a fifth-order filter: 3 dB at the edge, 38 dB at 1.5 times (or two thirds of) the edge.
class OctaveBank {
public:
    /// `levels` splits, at least one (asserted); a frame is 2^levels samples.
    explicit OctaveBank(int levels);

    [[nodiscard]] std::size_t frame_length() const { return std::size_t{1} << splits_.size(); }
    /// levels + 1: the remainder below, then octaves upwards.
    [[nodiscard]] std::size_t bands() const { return splits_.size() + 1; }
    /// How late a low-frequency event shows in a band: samples of the input.
    [[nodiscard]] Length delay(std::size_t band) const;

    /// Takes exactly one frame, writes the mean square of each band during it, lowest band first. No allocation.
    void process(std::span<const float> frame, std::span<double> energies);

private:
    struct Split {
        float odd_in = 0.0F, odd_out = 0.0F;   // branch fed by the odd samples
        float even_in = 0.0F, even_out = 0.0F; // branch fed by the even ones
    };
    static double split(Split& state, std::span<float> samples);

    std::vector<Split> splits_;
    std::vector<float> work_;
    bool started_ = false;
};

} // namespace retap::dsp
