#include "dsp/contacts/tap_spectra.hpp"

#include "analysis_rate.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

constexpr double pi = 3.14159265358979;

// A click that rings at 3 kHz for a millisecond or two, 20 ms in, over noise.
std::vector<float> tap(double level, double noise, unsigned seed) {
    std::vector<float> sound = retap::test::white_noise(5760, noise, seed);
    for (std::size_t n = 0; n < 960; ++n) {
        const double t = static_cast<double>(n) / 48.0; // ms
        sound[960 + n] += static_cast<float>(level * std::exp(-1.5 * t) * std::sin(2.0 * pi * 3.0 * t));
    }
    return sound;
}

} // namespace

TEST_CASE("spectra stand at the frequencies they claim, level apart") {
    const std::vector<float> soft = tap(0.1, 1e-5, 51);
    const std::vector<float> loud = tap(0.4, 4e-5, 52);
    const std::vector<TapSound> taps{{soft, Position(960.0)}, {loud, Position(960.0)}};
    const auto heard = hear_spectra(taps, analysis_rate, {});
    REQUIRE(heard.has_value());
    const TapSpectra& s = heard->spectra;
    REQUIRE(s.taps.size() == 2);
    // 46.875 Hz steps from 421.9 Hz to 19.97 kHz
    CHECK(s.step_radians == doctest::Approx(2e-3 * pi * 46.875));
    CHECK(s.first_radians == doctest::Approx(2e-3 * pi * 421.875));
    CHECK(s.taps[0].size() == 418);
    // a plain transform of the weighted sound at one frequency, up to the common scale: phase and ratio of two of them
    const auto plain = [&](const std::vector<float>& x, std::size_t f) {
        const double w = (s.first_radians + s.step_radians * static_cast<double>(f)) / 48.0;
        Complex sum = 0.0;
        for (std::size_t n = 24; n < 736; ++n) { // from the end of the fade-in to the begin of the fade-out
            const double weight = std::exp(-(static_cast<double>(n) - 48.0) / 192.0);
            sum += static_cast<double>(x[912 + n]) * weight * std::polar(1.0, -w * static_cast<double>(n));
        }
        return sum;
    };
    const std::size_t f = 55; // 3 kHz
    CHECK(std::abs(s.taps[1][f] / s.taps[0][f] - Complex(1.0)) < 1e-2);
    CHECK(std::abs(std::arg(plain(soft, f) / s.taps[0][f])) < 1e-2);
}

TEST_CASE("what noise alone leaves is foretold within a tenth") {
    std::vector<std::vector<float>> sounds;
    for (unsigned i = 0; i < 8; ++i) {
        sounds.push_back(tap(0.3, 0.003, 60 + i));
    }
    std::vector<TapSound> taps;
    taps.reserve(sounds.size());
    for (const auto& sound : sounds) {
        taps.push_back({sound, Position(960.0)});
    }
    const auto heard = hear_spectra(taps, analysis_rate, {});
    REQUIRE(heard.has_value());
    double left = 0.0;
    for (std::size_t f = 0; f < heard->spectra.taps[0].size(); ++f) {
        Complex mean = 0.0;
        for (const Spectrum& t : heard->spectra.taps) {
            mean += t[f] / 8.0;
        }
        for (const Spectrum& t : heard->spectra.taps) {
            left += std::norm(t[f] - mean);
        }
    }
    CHECK(left == doctest::Approx(heard->noise).epsilon(0.1));
}

TEST_CASE("an excerpt without quiet before, too short after, or silent has no spectra") {
    const std::vector<float> sound = tap(0.3, 1e-4, 70);
    const std::vector<float> silence(5760, 0.0F);
    for (const TapSound& bad : {TapSound{sound, Position(120.0)}, TapSound{sound, Position(5000.0)},
                                TapSound{silence, Position(960.0)}, TapSound{{}, Position(0.0)}}) {
        CHECK_FALSE(hear_spectra(std::vector<TapSound>{{sound, Position(960.0)}, bad}, analysis_rate, {}).has_value());
    }
}
