// Splits sound into octave bands by halving: the cheap look at everything that decides where to look closely.
#pragma once

#include "dsp/base/units.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// Octaves below those that have a sample in each frame of some 1.3 ms: soft taps have most of their sound there.
inline constexpr std::size_t slow_octaves = 2;

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
    /// `levels` splits of the frame, at least one (asserted); a frame is 2^levels samples. `slow` further octaves below
    /// have less than one sample a frame: a half, a quarter, ...; each of their energies is handed out for as many
    /// frames as it stands for.
    explicit OctaveBank(int levels, std::size_t slow = 0);

    [[nodiscard]] std::size_t frame_length() const { return std::size_t{1} << splits_.size(); }
    /// levels + slow + 1: the remainder below, then octaves upwards.
    [[nodiscard]] std::size_t bands() const { return splits_.size() + slow_.size() + 1; }
    /// Independent samples of a band in one frame.
    [[nodiscard]] double samples_per_frame(std::size_t band) const;
    /// How late a low-frequency event shows in a band: samples of the input.
    [[nodiscard]] Length delay(std::size_t band) const;

    /// Takes exactly one frame, writes the mean square of each band during it, lowest band first. No allocation.
    void process(std::span<const float> frame, std::span<double> energies);

private:
    struct Split {
        float odd_in = 0.0F, odd_out = 0.0F;   // branch fed by the odd samples
        float even_in = 0.0F, even_out = 0.0F; // branch fed by the even ones
    };
    /// An octave that needs two samples of the remainder above it for one of its own.
    struct Slow {
        Split filter{};
        std::optional<float> waiting{};
        double energy = 0.0;
    };
    static double split(Split& state, std::span<float> samples);
    void process_slow(float sample, std::span<double> energies);
    [[nodiscard]] std::size_t level_of(std::size_t band) const;

    std::vector<Split> splits_;
    std::vector<Slow> slow_;
    double below_ = 0.0;
    std::vector<float> work_;
    bool started_ = false;
};

} // namespace retap::dsp
