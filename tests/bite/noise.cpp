#include "bite/noise.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace retap::bite;

TEST_CASE("the floor has the level that was asked for, whatever its colour") {
    for (const double pink : {0.0, 0.5, 1.0}) {
        std::vector<double> out(480000, 0.0);
        Random random(5, "floor");
        add_noise(out, 48000.0, 0.01, pink, random);
        CAPTURE(pink);
        CHECK(rms(out) == doctest::Approx(0.01).epsilon(0.05)); // the slowest part of pink noise wanders
    }
}

TEST_CASE("white noise is level and pink noise falls by 3 dB per octave") {
    std::vector<double> white(96000, 0.0);
    std::vector<double> pink(96000, 0.0);
    Random random(6, "colour");
    add_noise(white, 48000.0, 1.0, 0.0, random);
    add_noise(pink, 48000.0, 1.0, 1.0, random);
    const auto octave = [](const std::vector<double>& x, double hz) {
        return band_db(x, hz / std::sqrt(2.0), hz * std::sqrt(2.0), 48000.0);
    };
    CHECK(std::abs(octave(white, 250.0) - octave(white, 8000.0)) < 1.0);
    for (const double hz : {250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0}) {
        CAPTURE(hz);
        CHECK(octave(pink, 250.0) - octave(pink, hz) ==
              doctest::Approx(3.01 * std::log2(hz / 250.0)).scale(1.0).epsilon(1.2));
    }
}
