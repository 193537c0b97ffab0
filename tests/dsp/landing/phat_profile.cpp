#include "dsp/landing/phat_profile.hpp"
#include "analysis_rate.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

constexpr std::size_t profile_size = 1200;

/// Correlates clicks with one click, which gives the clicks themselves: `strength` at a `lag` in samples.
struct Click {
    std::ptrdiff_t lag;
    float strength;
};

GccPhat of(const std::vector<Click>& clicks) {
    RealFft fft(profile_size);
    std::vector<float> one(profile_size, 0.0F);
    one[profile_size / 2] = 1.0F;
    std::vector<float> other(profile_size, 0.0F);
    for (const Click& click : clicks) {
        other[static_cast<std::size_t>(static_cast<std::ptrdiff_t>(profile_size / 2) + click.lag)] = click.strength;
    }
    GccPhat correlation(profile_size, 3.0);
    correlation.correlate(fft.forward(other), fft.forward(one));
    return correlation;
}

float at(const PhatProfile& row, double lag_ms) {
    return row.at(static_cast<std::size_t>(std::ranges::find(phat_lags_ms, lag_ms) - phat_lags_ms.begin()));
}

/// A bell of 0.083 ms, 3.984 samples, by its definition: its centre when all 25 of its weights sum to 1.
double bell_at(int samples) {
    double sum = 0.0;
    for (int i = -12; i <= 12; ++i) {
        sum += std::exp(-0.5 * i * i / (3.984 * 3.984));
    }
    return std::exp(-0.5 * samples * samples / (3.984 * 3.984)) / sum;
}

} // namespace

TEST_CASE("a click half as strong, half a millisecond before another, has a fifth of their energy there") {
    // 1 at the peak and 0.25 at -24 samples: shares of 0.8 and 0.2, blurred, per ms of 48 samples.
    LandingSettings settings;
    settings.chance_density = 1e-9;
    const PhatProfilePair rows = PhatProfileReader(analysis_rate, settings).rows(of({{30, 1.0F}, {6, -0.5F}}), 30);
    const auto db = [](double density) { return 10.0 * std::log10(density); };
    CHECK(static_cast<double>(at(rows.forth, 0.0)) == doctest::Approx(db(0.8 * bell_at(0) * 48.0)).epsilon(1e-4));
    CHECK(static_cast<double>(at(rows.forth, -0.5)) == doctest::Approx(db(0.2 * bell_at(0) * 48.0)).epsilon(1e-4));
    CHECK(static_cast<double>(at(rows.forth, 0.08)) == doctest::Approx(db(0.8 * bell_at(4) * 48.0)).epsilon(1e-4));
    CHECK(static_cast<double>(at(rows.forth, 0.5)) == doctest::Approx(-90.0).epsilon(0.001)); // nothing but chance
    for (std::size_t i = 0; i < phat_lags_ms.size(); ++i) { // the other way round it comes after
        const double lag_ms = phat_lags_ms.at(i);
        if (std::ranges::count(phat_lags_ms, -lag_ms) == 1) {
            CHECK(rows.back.at(i) == at(rows.forth, -lag_ms));
        }
    }
}

TEST_CASE("what lies further from the peak than 5 ms takes no share of the energy") {
    LandingSettings settings;
    settings.chance_density = 1e-9;
    const PhatProfileReader reader(analysis_rate, settings);
    const PhatProfilePair alone = reader.rows(of({{0, 1.0F}}), 0);
    CHECK(at(reader.rows(of({{0, 1.0F}, {-250, 1.0F}}), 0).forth, 0.0) == doctest::Approx(at(alone.forth, 0.0)));
    CHECK(at(reader.rows(of({{0, 1.0F}, {-230, 1.0F}}), 0).forth, 0.0) ==
          doctest::Approx(at(alone.forth, 0.0) - 3.01F).epsilon(0.001));
}

TEST_CASE("silence reads as chance at every lag") {
    const PhatProfilePair rows = PhatProfileReader(analysis_rate, {}).rows(of({}), 0);
    for (const float v : rows.forth) {
        CHECK(static_cast<double>(v) == doctest::Approx(10.0 * std::log10(0.02)));
    }
    CHECK(rows.forth == rows.back);
}
