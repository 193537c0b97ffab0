#include "dsp/find/band_time_pattern.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

using namespace retap::dsp;

namespace {

constexpr double frames_per_second = 750.0;
constexpr std::size_t bands = 7;
constexpr double floor_power = 1e-8;

/// Steady noise, and from frame 100 on an event: 1e-3 in octave 3, decaying by 3 dB in 8 frames, 1e-4 in octave 5.
FrameHistory history_with_event(double gain) {
    FrameHistory history(400, bands);
    for (int f = 0; f < 300; ++f) {
        const auto row = history.append();
        for (double& power : row) {
            power = floor_power;
        }
        if (f >= 100) {
            const double decay = std::pow(0.5, (f - 100) / 8.0);
            row[3] += gain * 1e-3 * decay;
            row[5] += gain * 1e-4 * decay;
        }
    }
    return history;
}

BandTimePattern pattern_of(const FrameHistory& history) {
    const std::vector<double> floor(bands, floor_power);
    return measure_pattern(history, floor, 100, frames_per_second);
}

} // namespace

TEST_CASE("an pattern holds the mean powers of octave and slice, noise off") {
    const BandTimePattern pattern = pattern_of(history_with_event(1.0));
    // First slice: frames 97 to 104, of which the last five hold 2^(-n/8), n = 0..4, of 1e-3.
    double sum = 0.0;
    for (int n = 0; n < 5; ++n) {
        sum += 1e-3 * std::pow(0.5, n / 8.0);
    }
    CHECK(pattern.level_db[2] == doctest::Approx(10.0 * std::log10(sum / 8.0)).epsilon(1e-6));
    CHECK(pattern.heard[2]);
    CHECK(pattern.heard[4]); // 10 dB below
    CHECK_FALSE(pattern.heard[0]);
    // The late slice, frames 116 to 144, still stands out in the stronger octave.
    CHECK(pattern.heard[2 * BandTimePattern::max_octaves + 2]);
}

TEST_CASE("the same event ten times as strong leaves the same pattern, another octave does not") {
    const BandTimePattern soft = pattern_of(history_with_event(1.0));
    const BandTimePattern loud = pattern_of(history_with_event(10.0));
    CHECK(pattern_distance(soft, loud) < 0.05);
    FrameHistory other(400, bands);
    for (int f = 0; f < 300; ++f) {
        const auto row = other.append();
        for (double& power : row) {
            power = floor_power;
        }
        row[1] += f >= 100 ? 1e-3 : 0.0;
    }
    CHECK(pattern_distance(soft, pattern_of(other)) > 9.0);
}

TEST_CASE("the distance of two patterns follows from their cells") {
    BandTimePattern a;
    BandTimePattern b;
    for (const std::size_t k : {0U, 1U}) {
        a.heard.at(k) = b.heard.at(k) = true;
    }
    a.level_db[1] = 6.0; // differences 0 and 6 dB: mean 3, deviations -3 and 3
    CHECK(pattern_distance(a, b) == doctest::Approx(3.0));
    CHECK(pattern_distance(b, a) == doctest::Approx(3.0));
    // A doubt of 3 dB halves the weight: mean 6 / 3 = 2, squares (4 + 16 / 2) / 1.5 = 8.
    a.doubt_db[1] = 3.0;
    CHECK(pattern_distance(a, b) == doctest::Approx(std::sqrt(8.0)));
    CHECK(pattern_distance(BandTimePattern{}, BandTimePattern{}) == 0.0);
}

TEST_CASE("one stray pattern does not move the median") {
    BandTimePattern usual;
    usual.heard[0] = true;
    usual.level_db[0] = -20.0;
    BandTimePattern stray = usual;
    stray.level_db[0] = 0.0;
    stray.heard[3] = true;
    const std::array<const BandTimePattern*, 3> three{&usual, &stray, &usual};
    const BandTimePattern middle = median_pattern(three);
    CHECK(middle.level_db[0] == -20.0);
    CHECK(middle.heard[0]);
    CHECK_FALSE(middle.heard[3]);
}

TEST_CASE("the spread of an pattern is that of its levels, the same at any strength") {
    BandTimePattern pattern;
    pattern.level_db.fill(-60.0);
    CHECK(pattern_spread(pattern) == doctest::Approx(0.0));
    for (std::size_t k = 0; k < BandTimePattern::cells; k += 2) {
        pattern.level_db.at(k) = -40.0; // half of them 20 dB above the others: 10 dB from the mean
    }
    CHECK(pattern_spread(pattern) == doctest::Approx(10.0));
    for (double& level : pattern.level_db) {
        level += 17.0;
    }
    CHECK(pattern_spread(pattern) == doctest::Approx(10.0));
}
