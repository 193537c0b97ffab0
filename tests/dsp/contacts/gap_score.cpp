#include "dsp/contacts/gap_score.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace retap::dsp;

namespace {

// Taps that play one random sound twice, the second time at `gaps`, with a little noise; 0.4 to 12 kHz.
TapSpectra made(const std::vector<double>& gaps_ms, double ratio, unsigned seed) {
    constexpr double pi = 3.14159265358979;
    TapSpectra s{.first_radians = 2.0 * pi * 0.4, .step_radians = 2.0 * pi * 0.05};
    std::mt19937 engine(seed);
    std::normal_distribution<double> normal(0.0, 1.0);
    Spectrum sound(232);
    for (Complex& k : sound) {
        k = Complex(normal(engine), normal(engine));
    }
    for (const double gap : gaps_ms) {
        Phasor phasor = s.phasor(gap);
        s.taps.emplace_back();
        for (const Complex& k : sound) {
            s.taps.back().push_back(k * (1.0 + ratio * phasor.next()) + 0.02 * Complex(normal(engine), normal(engine)));
        }
    }
    return s;
}

GapPromise best(const std::vector<GapPromise>& promises) {
    return *std::ranges::max_element(promises, {}, &GapPromise::explained);
}

} // namespace

TEST_CASE("gaps about 0.6 ms that shift by some microseconds promise 0.6 ms, and most of what differs") {
    const std::vector<double> gaps{0.600, 0.604, 0.596, 0.602, 0.595, 0.606};
    const GapPromise found = best(score_gaps(made(gaps, 0.5, 41), {}));
    CHECK(found.gap_ms == doctest::Approx(0.6).epsilon(0.05));
    CHECK(found.explained > 0.6);
    // the weaker one first: the gap counts from the stronger
    TapSpectra turned = made(gaps, 2.0, 42);
    for (std::size_t i = 0; i < gaps.size(); ++i) {
        Phasor back = turned.phasor(-gaps[i]);
        for (Complex& v : turned.taps[i]) {
            v *= back.next();
        }
    }
    CHECK(best(score_gaps(turned, {})).gap_ms == doctest::Approx(-0.6).epsilon(0.05));
}

TEST_CASE("taps that differ by noise alone, or not at all, promise nothing at any gap") {
    CHECK(best(score_gaps(made(std::vector<double>(6, 0.6), 0.5, 43), {})).explained < 0.05);
    TapSpectra same = made({0.6}, 0.5, 44);
    same.taps.push_back(same.taps.front());
    CHECK(best(score_gaps(same, {})).explained < 0.05);
}

TEST_CASE("every gap of the search is answered, on both sides") {
    const auto promises =
        score_gaps(made({0.6, 0.61}, 0.5, 45), {.shortest_ms = 0.2, .longest_ms = 0.4, .step_ms = 0.1});
    CHECK(promises.size() == 6);
    for (const GapPromise& p : promises) {
        CHECK(std::abs(p.gap_ms) >= 0.2);
        CHECK(std::abs(p.gap_ms) < 0.4 + 1e-9);
        CHECK(p.explained >= 0.0);
        CHECK(p.explained <= 1.0);
    }
}
