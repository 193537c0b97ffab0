#include "dsp/measure/tap_measures.hpp"

#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace retap;

namespace {

constexpr double onset_index = 960.0;

/// A tap of half a dozen cycles, `peak` high, in noise of -60 dBFS.
dsp::Tap measured(float peak, std::optional<double> next_after_ms = {}) {
    std::vector<float> sound = test::white_noise(7200, 0.001, 3);
    for (std::size_t i = 0; i < 240; ++i) {
        const auto t = static_cast<float>(i);
        sound[static_cast<std::size_t>(onset_index) + i] += peak * std::exp(-t / 60.0F) * std::cos(0.3F * t);
    }
    dsp::Tap tap;
    tap.excerpt = {.samples = std::move(sound), .sides = {}, .onset_index = onset_index};
    dsp::TapMeters meters{dsp::SampleRate(dsp::analysis_rate_hz), {}};
    std::optional<double> next;
    if (next_after_ms) {
        next = onset_index + 48.0 * *next_after_ms;
    }
    dsp::measure_tap(tap, dsp::Level(-60.0), next, meters, dsp::SampleRate(dsp::analysis_rate_hz));
    return tap;
}

} // namespace

TEST_CASE("a tap in the noise is left out with its reason, and its peak is still told") {
    const dsp::Tap loud = measured(0.1F); // 40 dB over the noise
    CHECK(loud.usable);
    CHECK(loud.measured);
    CHECK(loud.arrival_ms.size() == dsp::arrival_bands.size());
    CHECK(loud.peak_dbfs == doctest::Approx(-20.0).epsilon(0.02));
    const dsp::Tap soft = measured(0.003F); // 10 dB
    CHECK_FALSE(soft.usable);
    CHECK_FALSE(soft.measured);
    CHECK(soft.arrival_ms.empty());
    REQUIRE(soft.reasons.size() == 1);
    CHECK(soft.reasons[0] == dsp::Unusable::too_soft);
    CHECK(soft.peak_dbfs < -44.0);
    CHECK(soft.peak_dbfs > -51.0);
}

TEST_CASE("a loud tap whose successor comes within 2 ms is left out for that, and not for being soft") {
    for (const double next_ms : {0.2, 1.0, 1.9}) {
        CAPTURE(next_ms);
        const dsp::Tap tap = measured(0.1F, next_ms);
        CHECK_FALSE(tap.usable);
        REQUIRE(tap.reasons.size() == 1);
        CHECK(tap.reasons[0] == dsp::Unusable::followed_too_soon);
    }
    CHECK(measured(0.1F, 4.0).usable);
    CHECK(measured(0.003F, 60.0).reasons.at(0) == dsp::Unusable::too_soft);
}
