#include "bite/sinc_placer.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

using namespace retap::bite;

namespace {

// A smooth burst of a tone with its centre at `centre_s`.
double burst(double t_s, double centre_s, double hz) {
    const double u = (t_s - centre_s) / 1.5e-3;
    return std::exp(-u * u) * std::cos(2.0 * std::numbers::pi * hz * (t_s - centre_s));
}

double worst_error_db(double in_rate, double out_rate, double hz, double at_s) {
    Stretch sound{.rate_hz = in_rate, .start_s = -1e-3, .samples = {}};
    for (int n = 0; n < static_cast<int>(0.02 * in_rate); ++n) {
        sound.samples.push_back(burst(sound.start_s + n / in_rate, 0.008, hz));
    }
    std::vector<double> out(static_cast<std::size_t>(0.05 * out_rate), 0.0);
    add_at(out, out_rate, sound, at_s, 2.0);
    double worst = 1e-15;
    for (std::size_t n = 0; n < out.size(); ++n) {
        const double expected = 2.0 * burst(static_cast<double>(n) / out_rate, at_s + 0.008, hz);
        worst = std::max(worst, std::abs(out[n] - expected) / 2.0);
    }
    return 20.0 * std::log10(worst);
}

} // namespace

TEST_CASE("a sound lands at its exact time, between samples and from one rate to another") {
    for (const double out_rate : {44100.0, 48000.0, 96000.0}) {
        for (const double in_rate : {48000.0, 96000.0}) {
            for (const double at_s : {0.01, 0.0123456, 0.0200003}) {
                CAPTURE(out_rate);
                CAPTURE(in_rate);
                CHECK(worst_error_db(in_rate, out_rate, 3000.0, at_s) < -80.0);
                CHECK(worst_error_db(in_rate, out_rate, 15000.0, at_s) < -75.0);
            }
        }
    }
}

TEST_CASE("what the lower rate cannot hold is taken out, not folded down") {
    Stretch sound{.rate_hz = 96000.0, .start_s = 0.0, .samples = {}};
    for (int n = 0; n < 4800; ++n) {
        sound.samples.push_back(burst(n / 96000.0, 0.025, 30000.0));
    }
    std::vector<double> out(2400, 0.0);
    add_at(out, 48000.0, sound, 0.0, 1.0);
    CHECK(20.0 * std::log10(rms(out) / rms(sound.samples)) < -80.0);
}

TEST_CASE("what falls outside the take is dropped") {
    const Stretch sound{.rate_hz = 48000.0, .start_s = 0.0, .samples = std::vector<double>(100, 1.0)};
    std::vector<double> out(50, 0.0);
    add_at(out, 48000.0, sound, 1.0, 1.0);
    add_at(out, 48000.0, sound, -1.0, 1.0);
    add_at(out, 48000.0, {.rate_hz = 48000.0, .start_s = 0.0, .samples = {}}, 0.0, 1.0);
    CHECK(rms(out) == 0.0);
    add_at(out, 48000.0, sound, -50.0 / 48000.0, 1.0); // covers it whole: the middle of a constant is that constant
    CHECK(out[10] == doctest::Approx(1.0).epsilon(0.02));
}
