#include "bite/colour.hpp"

#include <cmath>
#include <numbers>

namespace retap::bite {

Colour& Colour::operator+=(const Colour& other) {
    for (std::size_t b = 0; b < bands; ++b) {
        gain_db.at(b) += other.gain_db.at(b);
    }
    return *this;
}

double Colour::centre_hz(std::size_t band) {
    return 1000.0 * std::exp2(static_cast<double>(band) - 3.5);
}

Colour Colour::scatter(Random& random, double sd_db) {
    Colour colour;
    for (double& gain : colour.gain_db) {
        gain = random.normal(0.0, sd_db);
    }
    return colour;
}

Colour Colour::tilt(double db_per_octave) {
    Colour colour;
    for (std::size_t b = 0; b < bands; ++b) {
        colour.gain_db.at(b) = db_per_octave * std::log2(centre_hz(b) / 1000.0);
    }
    return colour;
}

void apply_colour(std::span<double> samples, double rate_hz, const Colour& colour) {
    constexpr double q = 1.2;
    for (std::size_t band = 0; band < Colour::bands; ++band) {
        const double centre = Colour::centre_hz(band);
        if (centre > 0.45 * rate_hz) {
            continue;
        }
        // H(s) = (s^2 + s A/Q + 1) / (s^2 + s/(A Q) + 1): gain A^2 at the centre, 1 far away.
        const double a = std::pow(10.0, colour.gain_db.at(band) / 40.0);
        const double w = 2.0 * std::numbers::pi * centre / rate_hz;
        const double alpha = std::sin(w) / (2.0 * q);
        const double scale = 1.0 / (1.0 + alpha / a);
        const double b0 = (1.0 + alpha * a) * scale;
        const double b1 = -2.0 * std::cos(w) * scale;
        const double b2 = (1.0 - alpha * a) * scale;
        const double a2 = (1.0 - alpha / a) * scale;
        double s1 = 0.0;
        double s2 = 0.0;
        for (double& sample : samples) {
            const double in = sample;
            const double out = b0 * in + s1;
            s1 = b1 * (in - out) + s2;
            s2 = b2 * in - a2 * out;
            sample = out;
        }
    }
}

} // namespace retap::bite
