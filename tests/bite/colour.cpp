#include "bite/colour.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace retap::bite;

namespace {
double gain_db(const Colour& colour, double hz) {
    std::vector<double> impulse(9600, 0.0);
    impulse[0] = 1.0;
    apply_colour(impulse, 48000.0, colour);
    return 20.0 * std::log10(std::abs(spectrum_at(impulse, hz, 48000.0)));
}
} // namespace

TEST_CASE("no colour leaves a sound as it is") {
    std::vector<double> sound{0.3, -0.2, 0.7, 0.0, 1.0};
    const std::vector<double> before = sound;
    apply_colour(sound, 48000.0, {});
    for (std::size_t n = 0; n < sound.size(); ++n) {
        CHECK(sound[n] == doctest::Approx(before[n]));
    }
}

TEST_CASE("one band alone has its gain at its centre and leaves the far ones alone") {
    for (std::size_t band = 0; band < Colour::bands; ++band) {
        Colour colour;
        colour.gain_db.at(band) = 6.0;
        CAPTURE(band);
        CHECK(gain_db(colour, Colour::centre_hz(band)) == doctest::Approx(6.0).epsilon(0.01));
        if (band >= 3) {
            CHECK(std::abs(gain_db(colour, Colour::centre_hz(band - 3))) < 0.3);
        }
    }
}

TEST_CASE("a tilt follows its decibels per octave within 1.5 dB in the middle of the range") {
    const Colour tilt = Colour::tilt(1.0);
    const double slope = gain_db(tilt, 4000.0) - gain_db(tilt, 250.0); // 4 octaves
    CHECK(slope == doctest::Approx(4.0).epsilon(0.4));
    CHECK(std::abs(gain_db(tilt, 1000.0)) < 1.0);
}

TEST_CASE("it adds no sound before the first sample and keeps bands above 0.45 of the rate out") {
    std::vector<double> sound(100, 0.0);
    sound[50] = 1.0;
    Colour colour;
    colour.gain_db.fill(5.0);
    apply_colour(sound, 8000.0, colour);
    for (std::size_t n = 0; n < 50; ++n) {
        CHECK(sound[n] == 0.0);
    }
    CHECK(std::isfinite(rms(sound)));
}
