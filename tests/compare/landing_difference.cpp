#include "compare/landing_difference.hpp"

#include "dsp/filters/fft.hpp"
#include "dsp/filters/fractional_delay.hpp"
#include "dsp/landing/seat_filters.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <cstddef>
#include <random>
#include <vector>

using namespace retap;

namespace {

const dsp::SampleRate rate(48000.0);
constexpr std::size_t length = 2400;
constexpr std::size_t onset = 480; // 10 ms of quiet before

/// Taps of a bite: one sound, heard when the main contact lands and, weaker, `lead_ms` before it. Kernel, scatter and
/// noise come from the seed of a patient; what distinguishes takes of one patient is the lead, the filter and `take`.
std::vector<std::vector<float>> taps_of(unsigned patient, unsigned take, double lead_ms, bool reseated = false) {
    std::mt19937 kernel_random(patient);
    std::normal_distribution<double> normal(0.0, 1.0);
    std::vector<float> kernel(length, 0.0F);
    for (std::size_t i = 0; onset + i < length; ++i) {
        kernel[onset + i] = static_cast<float>(0.3 * std::exp(-static_cast<double>(i) / 120.0) * normal(kernel_random));
    }
    if (reseated) { // seeds from 100 on: not those that the comparison draws for itself
        dsp::RealFft fft(length);
        auto spectrum = fft.forward(kernel);
        const auto phase = dsp::draw_seat_phases(1, fft.bins(), rate, 1.0, 100 + take).front();
        for (std::size_t k = 0; k < spectrum.size(); ++k) {
            spectrum[k] *= std::polar(1.0F, phase[k]);
        }
        kernel = fft.inverse(spectrum);
    }
    std::mt19937 random(1000 * patient + take);
    std::vector<std::vector<float>> taps;
    for (std::size_t t = 0; t < 8; ++t) {
        const double lead = lead_ms + 0.05 * normal(random);
        const double level = std::pow(10.0, normal(random) / 20.0);
        const std::vector<float> main = dsp::delayed(kernel, dsp::Length::from_ms(2.0 + 0.02 * normal(random), rate));
        const std::vector<float> light = dsp::delayed(kernel, dsp::Length::from_ms(2.0 - lead, rate));
        std::vector<float> tap(length);
        for (std::size_t i = 0; i < length; ++i) {
            tap[i] = static_cast<float>(level * (static_cast<double>(main[i]) + 0.4 * static_cast<double>(light[i])) +
                                        0.001 * normal(random));
        }
        taps.push_back(std::move(tap));
    }
    return taps;
}

double differ(const std::vector<std::vector<float>>& before, const std::vector<std::vector<float>>& after,
              const compare::LandingDifferenceSettings& settings = {}, bool flipped = false) {
    std::vector<dsp::TapSound> sounds;
    std::vector<std::size_t> side;
    for (const auto& tap : before) {
        sounds.push_back({.samples = tap, .onset = dsp::Position(onset)});
        side.push_back(flipped ? 1 : 0);
    }
    for (const auto& tap : after) {
        sounds.push_back({.samples = tap, .onset = dsp::Position(onset)});
        side.push_back(flipped ? 0 : 1);
    }
    dsp::LandingSounds landing(sounds, side, rate);
    return compare::landing_difference(landing, rate, side, side, settings);
}

} // namespace

TEST_CASE("takes of one bite differ as usual, and a contact that lands earlier makes them differ more") {
    for (const unsigned patient : {1U, 2U, 3U}) {
        const auto before = taps_of(patient, 1, 0.3);
        const double same = differ(before, taps_of(patient, 2, 0.3));
        const double earlier = differ(before, taps_of(patient, 3, 0.6));
        const double much = differ(before, taps_of(patient, 4, 1.4));
        CHECK(same < 1.5);
        CHECK(earlier > 1.5 * same);
        CHECK(much > 1.5 * same);
    }
}

TEST_CASE("a take against itself differs by nothing") {
    const auto before = taps_of(4, 1, 0.3);
    CHECK(differ(before, before) < 1e-4); // rounding
}

TEST_CASE("it does not matter which side is called the first") {
    const auto before = taps_of(5, 1, 0.3);
    const auto after = taps_of(5, 2, 0.5);
    CHECK(differ(before, after) == doctest::Approx(differ(before, after, {}, true)));
}

TEST_CASE("nor which side is listed first") {
    for (const unsigned patient : {5U, 6U, 7U}) {
        CAPTURE(patient);
        const auto before = taps_of(patient, 1, 0.3);
        const auto after = taps_of(patient, 2, 0.5);
        // NOLINTNEXTLINE(readability-suspicious-call-argument): swapped on purpose
        CHECK(differ(after, before, {}, true) == doctest::Approx(differ(before, after)).epsilon(1e-3));
    }
}

TEST_CASE("a re-seated pick-up counts as usual because seats are among the usual differences") {
    double with_seats = 0.0;
    double without = 0.0;
    for (const unsigned patient : {6U, 7U, 8U, 9U}) {
        const auto before = taps_of(patient, 1, 0.3);
        const auto after = taps_of(patient, 2, 0.3, true);
        compare::LandingDifferenceSettings blind;
        blind.seat = {.band_db = 0.0, .tilt_db_per_octave = 0.0};
        with_seats += differ(before, after) / 4.0;
        without += differ(before, after, blind) / 4.0;
    }
    CHECK(with_seats < 1.4);
    CHECK(without > 1.5 * with_seats);
}

TEST_CASE("other numbers of taps are told as the usual number would be") {
    const auto before = taps_of(10, 1, 0.3);
    const auto after = taps_of(10, 2, 0.6);
    const auto some = [](const std::vector<std::vector<float>>& taps, std::ptrdiff_t count) {
        return std::vector<std::vector<float>>(taps.begin(), taps.begin() + count);
    };
    compare::LandingDifferenceSettings plain;
    plain.taps_power = 0.0;
    CHECK(differ(some(before, 4), some(after, 4)) ==
          doctest::Approx(differ(some(before, 4), some(after, 4), plain) * std::pow(2.0, 0.25)));
    CHECK(differ(before, after) == doctest::Approx(differ(before, after, plain)));
}
