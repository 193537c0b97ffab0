#include "dsp/filters/butterworth.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::dsp {
namespace {

struct Denominator {
    double k2; // square of the warped cut-off
    double scale;
    double a1;
    double a2;
};

Denominator denominator(Frequency cut_off, SampleRate rate) {
    assert(cut_off.hz() > 0.0 && cut_off.hz() < 0.5 * rate.hz());
    const double k = std::tan(std::numbers::pi * cut_off.hz() / rate.hz());
    const double scale = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
    return {.k2 = k * k,
            .scale = scale,
            .a1 = 2.0 * (k * k - 1.0) * scale,
            .a2 = (1.0 - std::numbers::sqrt2 * k + k * k) * scale};
}

} // namespace

Butterworth Butterworth::low_pass(Frequency cut_off, SampleRate rate) {
    const Denominator d = denominator(cut_off, rate);
    return {d.k2 * d.scale, 2.0 * d.k2 * d.scale, d.a1, d.a2};
}

Butterworth Butterworth::high_pass(Frequency cut_off, SampleRate rate) {
    const Denominator d = denominator(cut_off, rate);
    return {d.scale, -2.0 * d.scale, d.a1, d.a2};
}

void Butterworth::apply(std::span<double> samples) const {
    double in1 = 0.0;
    double in2 = 0.0;
    double out1 = 0.0;
    double out2 = 0.0;
    for (double& sample : samples) {
        const double out = b0_ * (sample + in2) + b1_ * in1 - a1_ * out1 - a2_ * out2;
        in2 = in1;
        in1 = sample;
        out2 = out1;
        out1 = out;
        sample = out;
    }
}

} // namespace retap::dsp
