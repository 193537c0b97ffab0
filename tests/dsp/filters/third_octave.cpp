#include "dsp/filters/third_octave.hpp"

#include "dsp/filters/fft.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numeric>

using namespace retap::dsp;

namespace {
struct Row {
    double centre, lower, upper;
};
// IEC 61260-1:2014, base-10 system: exact centres and edges to four decimals, 100 Hz to 16 kHz
constexpr std::array<Row, 23> standard{
    {{100.0000, 89.1251, 112.2018},        {125.8925, 112.2018, 141.2538},      {158.4893, 141.2538, 177.8279},
     {199.5262, 177.8279, 223.8721},       {251.1886, 223.8721, 281.8383},      {316.2278, 281.8383, 354.8134},
     {398.1072, 354.8134, 446.6836},       {501.1872, 446.6836, 562.3413},      {630.9573, 562.3413, 707.9458},
     {794.3282, 707.9458, 891.2509},       {1000.0000, 891.2509, 1122.0185},    {1258.9254, 1122.0185, 1412.5375},
     {1584.8932, 1412.5375, 1778.2794},    {1995.2623, 1778.2794, 2238.7211},   {2511.8864, 2238.7211, 2818.3829},
     {3162.2777, 2818.3829, 3548.1339},    {3981.0717, 3548.1339, 4466.8359},   {5011.8723, 4466.8359, 5623.4133},
     {6309.5734, 5623.4133, 7079.4578},    {7943.2823, 7079.4578, 8912.5094},   {10000.0000, 8912.5094, 11220.1845},
     {12589.2541, 11220.1845, 14125.3754}, {15848.9319, 14125.3754, 17782.7941}}};
} // namespace

TEST_CASE("centres and edges are those of IEC 61260-1:2014, base 10") {
    const std::vector<FrequencyBand> bands = third_octave_bands(-10, 12);
    REQUIRE(bands.size() == standard.size());
    for (std::size_t i = 0; i < bands.size(); ++i) {
        CAPTURE(standard[i].centre);
        CHECK(std::abs(bands[i].centre.hz() - standard[i].centre) < 0.51e-4);
        CHECK(std::abs(bands[i].lower.hz() - standard[i].lower) < 0.51e-4);
        CHECK(std::abs(bands[i].upper.hz() - standard[i].upper) < 0.51e-4);
        CHECK(bands[i].lower.hz() == (i == 0 ? bands[0].lower.hz() : bands[i - 1].upper.hz()));
    }
    CHECK(third_octave_bands(3, 2).empty());
}

TEST_CASE("bin energies add up to the sum of squares (Parseval)") {
    for (const std::size_t size : {2U, 64U, 4000U}) {
        const std::vector<float> x = retap::test::white_noise(size, 0.2, 31);
        double squares = 0.0;
        for (const float v : x) {
            squares += static_cast<double>(v) * static_cast<double>(v);
        }
        const std::vector<double> bins = bin_energies(RealFft(size).forward(x));
        CHECK(std::accumulate(bins.begin(), bins.end(), 0.0) == doctest::Approx(squares).epsilon(1e-5));
    }
}

TEST_CASE("a bin across an edge is shared by width, and adjoining bands lose nothing") {
    // bins 10 Hz apart: bin 1 reaches from 5 to 15 Hz, and so on
    const std::vector<double> bins{100.0, 8.0, 4.0, 2.0};
    const auto band = [](double lower, double upper) {
        return FrequencyBand{Frequency(0.5 * (lower + upper)), Frequency(lower), Frequency(upper)};
    };
    const std::vector<FrequencyBand> bands{band(5.0, 12.5), band(12.5, 35.0), band(14.0, 16.0), band(35.0, 90.0)};
    const std::vector<double> energies = band_energies(bins, Frequency(10.0), bands);
    CHECK(energies[0] == doctest::Approx(0.75 * 8.0));
    CHECK(energies[1] == doctest::Approx(0.25 * 8.0 + 4.0 + 2.0));
    CHECK(energies[2] == doctest::Approx(0.1 * 8.0 + 0.1 * 4.0)); // narrower than a bin
    CHECK(energies[3] == 0.0);                                    // above the last bin
}

TEST_CASE("a steady sine lands in the band it belongs to, next to an edge or not") {
    constexpr std::size_t size = 8192;
    constexpr double rate = 48000.0;
    const std::vector<FrequencyBand> bands = third_octave_bands(-10, 12);
    RealFft fft(size);
    for (const double near : {1000.0, 1135.0, 3500.0, 12000.0}) {
        const double bin = std::round(near * size / rate); // on a bin, so that nothing leaks
        std::vector<float> x(size);
        for (std::size_t n = 0; n < size; ++n) {
            x[n] = static_cast<float>(std::cos(2.0 * std::numbers::pi * bin * static_cast<double>(n) / size));
        }
        const std::vector<double> energies = band_energies(bin_energies(fft.forward(x)), Frequency(rate / size), bands);
        for (std::size_t i = 0; i < bands.size(); ++i) {
            const double hz = bin * rate / size;
            const bool home = hz > bands[i].lower.hz() && hz < bands[i].upper.hz();
            CAPTURE(hz);
            CAPTURE(bands[i].centre.hz());
            CHECK(energies[i] == doctest::Approx(home ? size / 2.0 : 0.0).epsilon(1e-6));
        }
    }
}
