#include "report/tap_envelope.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

using namespace retap;
using report::EnvelopeWindow;
using report::tap_envelope;

namespace {

/// The plain twin: for each drawn moment, sum the samples whose index lies inside the window around it.
std::vector<double> plain_envelope(const dsp::Excerpt& excerpt, const EnvelopeWindow& window) {
    std::vector<double> curve;
    for (std::size_t point = 0; point < window.points(); ++point) {
        const double centre = excerpt.onset_index + window.at_ms(point) * 48.0;
        const double half = window.smoothing_ms * 24.0;
        double energy = 0.0;
        int wide = 0;
        for (int i = -2000; i < 4000; ++i) {
            if (std::abs(i - centre) <= half) {
                ++wide;
                if (i >= 0 && i < static_cast<int>(excerpt.samples.size())) {
                    energy += std::pow(static_cast<double>(excerpt.samples[static_cast<std::size_t>(i)]), 2);
                }
            }
        }
        curve.push_back(std::sqrt(energy / wide));
    }
    const double loudest = *std::max_element(curve.begin(), curve.end());
    for (double& value : curve) {
        value /= loudest;
    }
    return curve;
}

} // namespace

TEST_CASE("The envelope of noise agrees with summing each window by itself") {
    std::mt19937 random(20310514);
    std::normal_distribution<float> noise(0.0F, 0.1F);
    dsp::Excerpt excerpt;
    std::vector<float> sound(500);
    std::generate(sound.begin(), sound.end(), [&] { return noise(random); });
    excerpt.samples = std::move(sound);
    excerpt.onset_index = 40.3;
    const EnvelopeWindow window;
    const std::vector<double> found = tap_envelope(excerpt, window);
    const std::vector<double> twin = plain_envelope(excerpt, window);
    REQUIRE(found.size() == twin.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        CAPTURE(i);
        // Both sum about 12 squares of about 0.01 in double; running sums of 500 of them lose at most a few 1e-16 of 5.
        CHECK(found[i] == doctest::Approx(twin[i]).epsilon(1e-6).scale(1.0));
    }
}

TEST_CASE("Twice as loud a tap has the same envelope") {
    std::vector<float> quiet;
    for (int i = 0; i < 300; ++i) {
        quiet.push_back(i < 10 ? 0.0F : 0.25F * std::exp(-0.02F * static_cast<float>(i - 10)));
    }
    std::vector<float> twice(quiet.size());
    std::ranges::transform(quiet, twice.begin(), [](float sample) { return 2.0F * sample; });
    const dsp::Excerpt soft{.samples = std::move(quiet), .sides = {}, .onset_index = 10.0};
    const dsp::Excerpt loud{.samples = std::move(twice), .sides = {}, .onset_index = 10.0};
    CHECK(tap_envelope(soft, {}) == tap_envelope(loud, {})); // powers of two: exact
}

TEST_CASE("Silence, nothing and samples that are not numbers give no envelope or a finite one") {
    CHECK(tap_envelope({}, {}).empty());
    CHECK(tap_envelope({.samples = std::vector<float>(100, 0.0F), .onset_index = 5.0}, {}).empty());
    dsp::Excerpt broken{.samples = {0.0F, NAN, 0.5F, 0.25F}, .onset_index = 1.0};
    for (const double value : tap_envelope(broken, {})) {
        CHECK(std::isfinite(value));
    }
}

TEST_CASE("The middle curve is the median of each moment") {
    CHECK(report::median_curve({}).empty());
    CHECK(report::median_curve({{1, 9}, {2, 8}, {9, 1}}) == std::vector<double>{2, 8});
    CHECK(report::median_curve({{1, 4}, {3, 0}}) == std::vector<double>{2, 2});
}
