// Second-order Butterworth filters, for leaving out what lies below or above a band without looking ahead.
#pragma once

#include "dsp/base/units.hpp"

#include <span>

namespace retap::dsp {

/// Low and high pass of second order: 3 dB down at the cut-off, 12 dB an octave beyond, maximally flat within.
///
/// Method: the analogue filter 1 / (s^2 + sqrt(2) s + 1) through the bilinear transform with the cut-off kept in
/// place (Butterworth S 1930, Experimental Wireless 7:536-541; from memory). Causal: nothing sounds before it did. The
/// filter starts at rest, so a constant offset rings at the start of a high pass for about a period of the cut-off.
class Butterworth {
public:
    /// The cut-off lies between 0 and half the rate (asserted).
    [[nodiscard]] static Butterworth low_pass(Frequency cut_off, SampleRate rate);
    [[nodiscard]] static Butterworth high_pass(Frequency cut_off, SampleRate rate);

    /// Filters in place from rest.
    void apply(std::span<double> samples) const;

private:
    Butterworth(double b0, double b1, double a1, double a2) : b0_(b0), b1_(b1), a1_(a1), a2_(a2) {}

    double b0_; // of the numerator b0 + b1 z^-1 + b0 z^-2
    double b1_;
    double a1_; // of the denominator 1 + a1 z^-1 + a2 z^-2
    double a2_;
};

} // namespace retap::dsp
