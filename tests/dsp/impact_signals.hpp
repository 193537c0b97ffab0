// Signals whose measures follow from arithmetic, for the tests of the impact measures.
#pragma once

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <random>
#include <vector>

namespace retap::test {

/// A exp(-a t) sin(w t) from t = 0 on.
struct DampedSine {
    double amplitude = 0.5;
    double frequency_hz = 2000.0;
    double decay_per_s = 500.0;

    [[nodiscard]] double w() const { return 2.0 * std::numbers::pi * frequency_hz; }
    [[nodiscard]] double at(double t) const {
        return t < 0.0 ? 0.0 : amplitude * std::exp(-decay_per_s * t) * std::sin(w() * t);
    }
    /// Where the derivative vanishes first: tan(w t) = w / a.
    [[nodiscard]] double peak_time() const { return std::atan2(w(), decay_per_s) / w(); }
    /// Integral of the square: A^2 w^2 / (4 a (a^2 + w^2)).
    [[nodiscard]] double energy() const {
        const double a = decay_per_s;
        return amplitude * amplitude * w() * w() / (4.0 * a * (a * a + w() * w()));
    }
    /// Energy per hertz (f > 0, both halves of the spectrum together) of its samples, first one at the onset. From the
    /// z transform of r^n sin(w n): r sin(w) z^-1 / (1 - 2 r cos(w) z^-1 + r^2 z^-2), so folding is part of it.
    [[nodiscard]] double sampled_density(double f, double rate_hz) const {
        const double r = std::exp(-decay_per_s / rate_hz);
        const double step = w() / rate_hz;
        const std::complex<double> z = std::polar(1.0, -2.0 * std::numbers::pi * f / rate_hz);
        const double top = amplitude * r * std::sin(step);
        return 2.0 / rate_hz * top * top / std::norm(1.0 - 2.0 * r * std::cos(step) * z + r * r * z * z);
    }
};

/// `count` samples of the sine, beginning at sample position `onset` (may be a fraction).
inline std::vector<float> sampled(const DampedSine& sine, std::size_t count, double onset, double rate_hz) {
    std::vector<float> x(count);
    for (std::size_t n = 0; n < count; ++n) {
        x[n] = static_cast<float>(sine.at((static_cast<double>(n) - onset) / rate_hz));
    }
    return x;
}

inline std::vector<float> white_noise(std::size_t count, double rms, unsigned seed) {
    std::mt19937 engine(seed);
    std::normal_distribution<double> normal(0.0, rms);
    std::vector<float> x(count);
    for (float& v : x) {
        v = static_cast<float>(normal(engine));
    }
    return x;
}

inline void add(std::vector<float>& x, const std::vector<float>& y) {
    for (std::size_t n = 0; n < x.size() && n < y.size(); ++n) {
        x[n] += y[n];
    }
}

/// Root of a function that changes sign once between lo and hi.
template <class Function>
double bisect(Function f, double lo, double hi) {
    const bool rising = f(hi) > 0.0;
    for (int i = 0; i < 100; ++i) {
        const double mid = 0.5 * (lo + hi);
        ((f(mid) > 0.0) == rising ? hi : lo) = mid;
    }
    return 0.5 * (lo + hi);
}

} // namespace retap::test
