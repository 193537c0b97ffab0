#include "dsp/filters/octave_bank.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

using namespace retap::dsp;

namespace {
// Mean energies per band over all frames but the first few, in which the filters settle.
std::vector<double> mean_energies(const std::vector<float>& sound, int levels, std::size_t slow = 0) {
    OctaveBank bank(levels, slow);
    std::vector<double> sum(bank.bands(), 0.0);
    std::vector<double> one(bank.bands());
    const std::size_t length = bank.frame_length();
    std::size_t counted = 0;
    for (std::size_t at = 0; at + length <= sound.size(); at += length) {
        bank.process(std::span<const float>(sound).subspan(at, length), one);
        if (at < 20 * length) {
            continue;
        }
        ++counted;
        for (std::size_t b = 0; b < sum.size(); ++b) {
            sum[b] += one[b];
        }
    }
    for (double& s : sum) {
        s /= static_cast<double>(counted);
    }
    return sum;
}

std::vector<float> tone(double hz, double rate, std::size_t n) {
    std::vector<float> x(n);
    for (std::size_t i = 0; i < n; ++i) {
        x[i] = static_cast<float>(std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate));
    }
    return x;
}
} // namespace

TEST_CASE("the octave bands share out white noise by their widths and lose none of it") {
    std::mt19937 random(20240501);
    std::normal_distribution<float> normal;
    std::vector<float> noise(std::size_t{1} << 19);
    for (float& x : noise) {
        x = normal(random);
    }
    const auto energies = mean_energies(noise, 6);
    REQUIRE(energies.size() == 7);
    double sum = 0.0;
    for (std::size_t b = 0; b < energies.size(); ++b) {
        // Half the spectrum, a quarter, ...; the two lowest are equally wide. Three standard errors of 8192 values.
        const double share = std::ldexp(1.0, b == 0 ? -6 : static_cast<int>(b) - 7);
        CAPTURE(b);
        CHECK(energies[b] == doctest::Approx(share).epsilon(0.06));
        sum += energies[b];
    }
    CHECK(sum == doctest::Approx(1.0).epsilon(0.01));
}

TEST_CASE("a tone in the middle of an octave is heard in that octave and not two away") {
    for (std::size_t b = 1; b <= 6; ++b) {
        const double hz = 48000.0 * std::ldexp(1.0, static_cast<int>(b) - 8) * std::numbers::sqrt2;
        const auto energies = mean_energies(tone(hz, 48000.0, std::size_t{1} << 17), 6);
        CAPTURE(hz);
        CHECK(energies[b] == doctest::Approx(0.5).epsilon(0.1));
        if (b >= 3) {
            CHECK(energies[b - 2] < 0.5e-3);
        }
        if (b <= 4) {
            CHECK(energies[b + 2] < 0.5e-3);
        }
    }
}

TEST_CASE("an offset is heard below the octaves only") {
    const auto energies = mean_energies(std::vector<float>(std::size_t{1} << 16, 1.0F), 6);
    CHECK(energies[0] == doctest::Approx(1.0));
    for (std::size_t b = 1; b < energies.size(); ++b) {
        CHECK(energies[b] < 1e-10);
    }
}

TEST_CASE("a split follows the direct form of the same filter") {
    // Twin: the low half-band filter as a plain difference equation at the full rate, then every other sample.
    // H(z) = 1/2 [A(a; z^2) + z^-1 A(b; z^2)], A(c; z^2) = (c + z^-2) / (1 + c z^-2).
    const double a = std::pow(std::tan(std::numbers::pi / 10.0), 2.0);
    const double b = std::pow(std::tan(std::numbers::pi / 5.0), 2.0);
    std::mt19937 random(7);
    std::normal_distribution<float> normal;
    std::vector<float> x(4096);
    for (float& v : x) {
        v = normal(random);
    }
    x[0] = 0.0F; // the bank takes what comes first for the state of rest, the twin takes zero
    std::vector<double> ya(x.size(), 0.0);
    std::vector<double> yb(x.size(), 0.0);
    const auto in = [&](std::size_t n, std::size_t back) { return n >= back ? static_cast<double>(x[n - back]) : 0.0; };
    double high = 0.0;
    double low = 0.0;
    for (std::size_t n = 0; n < x.size(); ++n) {
        ya[n] = a * in(n, 0) + in(n, 2) - a * (n >= 2 ? ya[n - 2] : 0.0);
        yb[n] = b * in(n, 1) + in(n, 3) - b * (n >= 2 ? yb[n - 2] : 0.0);
        if (n % 2 == 1) {
            low += std::pow(0.5 * (ya[n] + yb[n]), 2.0);
            high += std::pow(0.5 * (ya[n] - yb[n]), 2.0);
        }
    }
    const double count = static_cast<double>(x.size()) / 2.0;
    OctaveBank bank(1);
    std::vector<double> energies(2);
    double bank_low = 0.0;
    double bank_high = 0.0;
    for (std::size_t at = 0; at < x.size(); at += 2) {
        bank.process(std::span<const float>(x).subspan(at, 2), energies);
        bank_low += energies[0];
        bank_high += energies[1];
    }
    CHECK(bank_low / count == doctest::Approx(low / count).epsilon(1e-5));
    CHECK(bank_high / count == doctest::Approx(high / count).epsilon(1e-5));
}

TEST_CASE("octaves with less than a sample a frame share out noise, hold their tone and hear no offset") {
    constexpr std::size_t slow = 2;
    std::mt19937 random(31);
    std::normal_distribution<float> normal;
    std::vector<float> noise(std::size_t{1} << 19);
    for (float& x : noise) {
        x = normal(random);
    }
    const auto shares = mean_energies(noise, 6, slow);
    REQUIRE(shares.size() == 9);
    double sum = 0.0;
    for (std::size_t b = 0; b < shares.size(); ++b) {
        CAPTURE(b);
        // Three standard errors of the 2048 values of the lowest band.
        CHECK(shares[b] == doctest::Approx(std::ldexp(1.0, b == 0 ? -8 : static_cast<int>(b) - 9)).epsilon(0.1));
        sum += shares[b];
    }
    CHECK(sum == doctest::Approx(1.0).epsilon(0.01));
    for (const std::size_t b : {std::size_t{1}, std::size_t{2}}) {
        const double hz = 48000.0 * std::ldexp(1.0, static_cast<int>(b) - 10) * std::numbers::sqrt2;
        const auto energies = mean_energies(tone(hz, 48000.0, std::size_t{1} << 17), 6, slow);
        CAPTURE(hz);
        CHECK(energies[b] == doctest::Approx(0.5).epsilon(0.1));
        CHECK(energies[b + 2] < 0.5e-3);
    }
    const auto offset = mean_energies(std::vector<float>(std::size_t{1} << 16, 1.0F), 6, slow);
    CHECK(offset[0] == doctest::Approx(1.0));
    CHECK(offset[1] < 1e-10);
    CHECK(offset[2] < 1e-10);
}

TEST_CASE("a thump shows in a slow octave as late as its delay says") {
    // A Hann-windowed period of 250 Hz, far longer than a frame; the centre of energy stands for its time.
    std::vector<double> energies(OctaveBank(6, 1).bands());
    double worst = 0.0;
    for (std::size_t start = 6400; start < 6400 + 128; start += 16) { // at all places within a pair of frames
        OctaveBank fresh(6, 1);
        double weight = 0.0;
        double centre = 0.0;
        for (std::size_t frame = 0; frame < 300; ++frame) {
            std::vector<float> x(64, 0.0F);
            for (std::size_t n = 0; n < 64; ++n) {
                const double t = static_cast<double>(frame * 64 + n) - static_cast<double>(start);
                if (t >= 0.0 && t < 384.0) {
                    x[n] = static_cast<float>(std::sin(2.0 * std::numbers::pi * t / 192.0) *
                                              (0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * t / 384.0)));
                }
            }
            fresh.process(x, energies);
            weight += energies[1];
            centre += energies[1] * (static_cast<double>(frame) + 0.5) * 64.0;
        }
        const double late = centre / weight - (static_cast<double>(start) + 192.0);
        worst = std::max(worst, std::abs(late - fresh.delay(1).samples()));
    }
    CHECK(worst < 128.0); // two frames, the resolution of that octave
}
