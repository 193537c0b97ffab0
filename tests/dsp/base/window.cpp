#include "dsp/base/window.hpp"
#include "skipped.hpp"

#include "../scipy.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <complex>
#include <numbers>

using namespace retap::dsp;

namespace {

// |sum w exp(-2 pi i b n / N)| / N at a fraction of a bin
double response(const std::vector<float>& window, double bin) {
    std::complex<double> sum = 0.0;
    for (std::size_t n = 0; n < window.size(); ++n) {
        const double turns = bin * static_cast<double>(n) / static_cast<double>(window.size());
        sum += static_cast<double>(window[n]) * std::polar(1.0, -2.0 * std::numbers::pi * turns);
    }
    return std::abs(sum) / static_cast<double>(window.size());
}

struct HarrisRow {
    WindowKind kind;
    double gain, bandwidth, scalloping, worst;
};

} // namespace

TEST_CASE("windows have the figures of Harris 1978, Proc IEEE 66:51-83, Table 1") {
    // The table's four columns recomputed from the defining formulas for 512 periodic samples, to the digits shown.
    constexpr std::array<HarrisRow, 5> rows{{{WindowKind::rectangle, 1.0000, 1.0000, 3.922, 3.922},
                                             {WindowKind::hann, 0.5000, 1.5000, 1.424, 3.185},
                                             {WindowKind::hamming, 0.5400, 1.3628, 1.751, 3.096},
                                             {WindowKind::blackman, 0.4200, 1.7268, 1.099, 3.471},
                                             {WindowKind::blackman_harris, 0.3588, 2.0044, 0.826, 3.845}}};
    for (const HarrisRow& row : rows) {
        CAPTURE(static_cast<int>(row.kind));
        const std::vector<float> window = make_window(row.kind, 512);
        const double scalloping = -20.0 * std::log10(response(window, 0.5) / response(window, 0.0));
        CHECK(std::abs(coherent_gain(window) - row.gain) < 0.6e-4);
        CHECK(std::abs(noise_bandwidth_bins(window) - row.bandwidth) < 0.6e-4);
        CHECK(std::abs(scalloping - row.scalloping) < 0.6e-3);
        CHECK(std::abs(scalloping + 10.0 * std::log10(noise_bandwidth_bins(window)) - row.worst) < 0.6e-3);
    }
}

TEST_CASE("every weight agrees with SciPy's periodic window of the same name") {
    constexpr std::array<WindowKind, 4> kinds{WindowKind::hann, WindowKind::hamming, WindowKind::blackman,
                                              WindowKind::blackman_harris};
    constexpr std::size_t size = 101;
    const std::vector<double> want =
        retap::test::scipy("window", "from scipy.signal import get_window\n"
                                     "for name in ('hann', 'hamming', 'blackman', 'blackmanharris'):\n"
                                     "    print(*get_window(name, 101))\n");
    if (want.empty()) {
        retap::test::skipped("install python3-scipy");
        return;
    }
    REQUIRE(want.size() == kinds.size() * size);
    for (std::size_t i = 0; i < want.size(); ++i) {
        CAPTURE(i);
        const std::vector<float> window = make_window(kinds[i / size], size);
        CHECK(std::abs(static_cast<double>(window[i % size]) - want[i]) < 1e-7); // float rounding
    }
}

TEST_CASE("a periodic Hann window sums to half its length and its squares to three eighths") {
    for (const std::size_t size : {4U, 100U, 4096U}) {
        const std::vector<float> window = make_window(WindowKind::hann, size);
        CHECK(coherent_gain(window) == doctest::Approx(0.5).epsilon(1e-6));
        CHECK(noise_bandwidth_bins(window) == doctest::Approx(1.5).epsilon(1e-6));
        CHECK(window[0] == 0.0F);
        CHECK(static_cast<double>(window[size / 2]) == doctest::Approx(1.0));
    }
    CHECK(make_window(WindowKind::hann, 0).empty());
}

TEST_CASE("a fade-in and a fade-out over the same samples add up to one") {
    std::vector<float> in(33, 1.0F);
    std::vector<float> out(33, 1.0F);
    fade_in(in);
    fade_out(out);
    for (std::size_t i = 0; i < in.size(); ++i) {
        CHECK(static_cast<double>(in[i] + out[i]) == doctest::Approx(1.0));
        CHECK(in[i] == out[in.size() - 1 - i]);
    }
    CHECK(in.front() > 0.0F);
    CHECK(in.front() < 0.01F);
    CHECK(static_cast<double>(in[16]) == doctest::Approx(0.5));
    fade_in({}); // nothing to do, and nothing breaks
}
