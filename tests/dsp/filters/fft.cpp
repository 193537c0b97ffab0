#include "dsp/filters/fft.hpp"

#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <fftw3.h>

#include <cmath>
#include <numbers>
#include <thread>

using namespace retap::dsp;
using retap::test::white_noise;

namespace {

using PlainSpectrum = std::vector<std::complex<double>>;

// The definition, as a double loop.
PlainSpectrum direct_dft(std::span<const float> x) {
    const std::size_t size = x.size();
    PlainSpectrum spectrum(size / 2 + 1);
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        for (std::size_t n = 0; n < size; ++n) {
            const double turns = static_cast<double>(k * n % size) / static_cast<double>(size);
            spectrum[k] += static_cast<double>(x[n]) * std::polar(1.0, -2.0 * std::numbers::pi * turns);
        }
    }
    return spectrum;
}

// FFTW 3.3.10 (Debian libfftw3-dev), double precision.
PlainSpectrum fftw(std::span<const float> x) {
    std::vector<double> in(x.begin(), x.end());
    PlainSpectrum out(x.size() / 2 + 1);
    fftw_plan plan = fftw_plan_dft_r2c_1d(static_cast<int>(x.size()), in.data(),
                                          reinterpret_cast<fftw_complex*>(out.data()), FFTW_ESTIMATE);
    fftw_execute(plan);
    fftw_destroy_plan(plan);
    return out;
}

double signal_to_error_db(std::span<const std::complex<float>> got, const PlainSpectrum& want) {
    REQUIRE(got.size() == want.size());
    double signal = 0.0;
    double error = 0.0;
    for (std::size_t k = 0; k < want.size(); ++k) {
        signal += std::norm(want[k]);
        error += std::norm(std::complex<double>(got[k]) - want[k]);
    }
    return 10.0 * std::log10(signal / error);
}

} // namespace

TEST_CASE("the fast transform agrees with the double loop of its definition") {
    for (const std::size_t size : {2U, 4U, 6U, 30U, 128U, 250U, 486U, 1024U}) {
        CAPTURE(size);
        const std::vector<float> x = white_noise(size, 0.3, 11);
        // float rounding: 24 bits are 144 dB, less a few dB for log2(size) passes; 120 leaves room and no bug through
        CHECK(signal_to_error_db(RealFft(size).forward(x), direct_dft(x)) > 120.0);
    }
}

TEST_CASE("long transforms agree with FFTW in double precision") {
    for (const std::size_t size : {4000U, 4096U, 7680U, 65536U}) {
        CAPTURE(size);
        const std::vector<float> x = white_noise(size, 0.3, 12);
        CHECK(signal_to_error_db(RealFft(size).forward(x), fftw(x)) > 120.0);
    }
}

TEST_CASE("an impulse is flat and a cosine on a bin is one line of half its samples") {
    RealFft fft(64);
    std::vector<float> impulse(64, 0.0F);
    impulse[5] = 1.0F;
    for (const std::complex<float> bin : fft.forward(impulse)) {
        CHECK(std::abs(bin) == doctest::Approx(1.0).epsilon(1e-6));
    }
    std::vector<float> cosine(64);
    for (std::size_t n = 0; n < 64; ++n) {
        cosine[n] = static_cast<float>(0.25 * std::cos(2.0 * std::numbers::pi * 7.0 * static_cast<double>(n) / 64.0));
    }
    const auto spectrum = fft.forward(cosine);
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        CAPTURE(k);
        CHECK(static_cast<double>(std::abs(spectrum[k])) == doctest::Approx(k == 7 ? 8.0 : 0.0).epsilon(1e-6));
    }
}

TEST_CASE("a signal comes back from its spectrum, and a short one is continued with zeros") {
    for (const std::size_t size : {2U, 50U, 4096U}) {
        RealFft fft(size);
        const std::vector<float> x = white_noise(size, 0.3, 13);
        const std::vector<float> back = fft.inverse(fft.forward(x));
        for (std::size_t n = 0; n < size; ++n) {
            REQUIRE(static_cast<double>(back[n]) == doctest::Approx(static_cast<double>(x[n])).epsilon(1e-5));
        }
    }
    RealFft fft(16);
    const std::vector<float> back = fft.inverse(fft.forward(std::vector<float>{1.0F, -2.0F, 3.0F}));
    CHECK(static_cast<double>(back[1]) == doctest::Approx(-2.0));
    CHECK(static_cast<double>(back[15]) == doctest::Approx(0.0));
    CHECK(fft.forward({}).size() == 9);
    CHECK(std::abs(fft.forward({})[3]) == 0.0F);
}

TEST_CASE("copies work on their own, each in a thread of its own") {
    const std::vector<float> x = white_noise(1024, 0.3, 14);
    RealFft original(1024);
    const auto want = original.forward(x);
    std::vector<RealFft> copies(3, original);
    original = RealFft(8); // must not take the copies' tables with it
    std::vector<std::vector<std::complex<float>>> got(copies.size());
    std::vector<std::thread> threads;
    for (std::size_t i = 0; i < copies.size(); ++i) {
        threads.emplace_back([&, i] {
            for (int round = 0; round < 50; ++round) {
                got[i] = copies[i].forward(x);
            }
        });
    }
    for (std::thread& thread : threads) {
        thread.join();
    }
    for (const auto& spectrum : got) {
        CHECK(spectrum == want);
    }
    CHECK(original.size() == 8);
}

TEST_CASE("a fast size is even, long enough, and has no prime factor above five") {
    CHECK(fast_fft_size(1) == 2);
    CHECK(fast_fft_size(2) == 2);
    CHECK(fast_fft_size(13) == 16); // 14 = 2 * 7 will not do
    CHECK(fast_fft_size(17) == 18);
    CHECK(fast_fft_size(3890) == 4000);
    CHECK(fast_fft_size(4096) == 4096);
}
