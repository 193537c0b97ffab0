// Spectra as columns of complex numbers, and the little arithmetic that fitting them takes.
#pragma once

#include <complex>
#include <cstddef>
#include <vector>

namespace retap::dsp {

using Complex = std::complex<double>;
using Spectrum = std::vector<Complex>;

/// The product without the checks for infinities that the operator makes.
[[nodiscard]] inline Complex times(Complex a, Complex b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// Real part of the inner product: what two real signals have in common.
[[nodiscard]] inline double dot(const Spectrum& a, const Spectrum& b) {
    double sum = 0.0;
    for (std::size_t f = 0; f < a.size(); ++f) {
        sum += a[f].real() * b[f].real() + a[f].imag() * b[f].imag();
    }
    return sum;
}

/// exp(-i w t) of one evenly spaced frequency after the other: a delay by t.
class Phasor {
public:
    Phasor(double first_radians, double step_radians, double t)
        : value_(std::polar(1.0, -first_radians * t)), step_(std::polar(1.0, -step_radians * t)) {}
    [[nodiscard]] Complex next() {
        const Complex now = value_;
        value_ = times(value_, step_);
        return now;
    }

private:
    Complex value_;
    Complex step_;
};

} // namespace retap::dsp
