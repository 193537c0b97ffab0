#include "compare/first_sound_evidence.hpp"

#include "dsp/impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

using namespace retap;
using compare::FirstSoundShift;
using compare::shift_of;

namespace {

dsp::FirstSound at(double ms, double error_ms) {
    dsp::FirstSound sound;
    sound.ms.fill(ms);
    sound.standard_error_ms.fill(error_ms);
    return sound;
}

/// Taps on two sides: a click with `light` of it `lead_ms` before it, and noise of a standard deviation of `noise`.
struct Taps {
    std::vector<std::vector<float>> samples;
    std::vector<std::size_t> side;

    void add(std::size_t on, double lead_ms, float light, double noise, unsigned seed) {
        std::vector<float> tap = retap::test::white_noise(4800, noise, seed);
        for (std::size_t i = 0; i < 480; ++i) {
            const float click = (i % 2 == 0 ? 1.0F : -1.0F) * std::exp(-static_cast<float>(i) / 40.0F) +
                                std::sin(0.05F * static_cast<float>(i)) * std::exp(-static_cast<float>(i) / 120.0F);
            tap[1200 + i] += click;
            tap[1200 - static_cast<std::size_t>(lead_ms * 48.0) + i] += light * click;
        }
        samples.push_back(std::move(tap));
        side.push_back(on);
    }

    /// Lays a faint 3 kHz that dies away over 2 ms into the last tap, `lead_ms` before its click.
    void ring(double lead_ms, float level) {
        for (std::size_t i = 0; i < 480; ++i) {
            const auto at = static_cast<float>(i);
            samples.back()[1200 - static_cast<std::size_t>(lead_ms * 48.0) + i] +=
                level * std::sin(0.3927F * at) * std::exp(-at / 100.0F);
        }
    }

    [[nodiscard]] std::optional<FirstSoundShift> shift(const compare::FirstSoundEvidenceSettings& settings = {}) const {
        std::vector<dsp::TapSound> taps;
        for (const std::vector<float>& tap : samples) {
            taps.push_back({.samples = tap, .onset = dsp::Position(1200)});
        }
        const std::vector<double> main_impact(taps.size(), 1200.0);
        return compare::shift_between(taps, main_impact, side, dsp::SampleRate(48000.0), settings);
    }
};

compare::FirstSoundEvidenceSettings bands(double first_hz, double second_hz, double third_hz) {
    compare::FirstSoundEvidenceSettings settings;
    settings.pooled.from_hz = first_hz;
    settings.further_from_hz = {second_hz, third_hz};
    return settings;
}

Taps with_leads(double before_ms, double after_ms) {
    Taps taps;
    for (unsigned t = 0; t < 6; ++t) {
        taps.add(0, before_ms, 0.1F, 0.001, 10 + t);
        taps.add(1, after_ms, 0.1F, 0.001, 30 + t);
    }
    return taps;
}

} // namespace

TEST_CASE("the size of a shift is its length over its error and the drift between takes") {
    compare::FirstSoundEvidenceSettings settings;
    settings.drift_ms = 1.2;
    const FirstSoundShift shift = shift_of({.side = {at(0.5, 0.3), at(1.8, 0.4)}, .deepest_db = -33.0}, settings);
    CHECK(shift.before_ms == doctest::Approx(0.5));
    CHECK(shift.after_ms == doctest::Approx(1.8));
    CHECK(shift.before_error_ms == doctest::Approx(0.3));
    CHECK(shift.after_error_ms == doctest::Approx(0.4));
    CHECK(shift.deepest_db == -33.0);
    CHECK(shift.size == doctest::Approx(1.0)); // 1.3 over the root of 0.3^2 + 0.4^2 + 1.2^2, which is 1.3
}

TEST_CASE("an early first sound speaks for a difference, an unmoved one against it, and neither without bound") {
    const auto weight = [](double size) {
        FirstSoundShift shift;
        shift.size = size;
        return compare::weight_of(shift);
    };
    CHECK(weight(0.25) == doctest::Approx(0.0)); // the usual
    CHECK(weight(0.0) == doctest::Approx(0.85 * std::log(0.5 / 0.75)));
    CHECK(weight(2.5) == doctest::Approx(0.85 * std::log(3.0 / 0.75)));
    CHECK(weight(100.0) == weight(8.0));
}

TEST_CASE("a lead that grew is heard in every hearing, and in milliseconds in the first of them") {
    const auto grown = with_leads(0.3, 1.0).shift();
    REQUIRE(grown);
    CHECK(grown->after_ms - grown->before_ms == doctest::Approx(0.7).epsilon(0.05));
    CHECK(grown->size > 1.5); // of seven levels four lie below the light contact, at -20 dB
    const auto unmoved = with_leads(0.3, 0.3).shift();
    REQUIRE(unmoved);
    CHECK(unmoved->size < 0.25);
}

TEST_CASE("bands and blurs are listened to alike") {
    const Taps taps = with_leads(0.3, 0.5);
    double sizes = 0.0;
    for (const double from_hz : {300.0, 700.0, 1500.0}) {
        for (const double blur_ms : {0.1, 0.4, 1.0}) {
            compare::FirstSoundEvidenceSettings one = bands(from_hz, from_hz, from_hz);
            one.pooled.blur_ms = blur_ms;
            one.further_blur_ms = {blur_ms, blur_ms};
            const auto shift = taps.shift(one);
            REQUIRE(shift);
            sizes += shift->size / 9.0;
        }
    }
    CHECK(taps.shift().value().size == doctest::Approx(sizes));
}

TEST_CASE("over a longer while a light contact that rings on stands out of more noise") {
    Taps taps;
    for (unsigned t = 0; t < 8; ++t) {
        taps.add(0, 0.3, 0.0F, 0.02, 10 + t);
        taps.add(1, 0.3, 0.0F, 0.02, 30 + t);
        taps.ring(3.0, 0.021F); // no louder than the noise at any instant
    }
    compare::FirstSoundEvidenceSettings brief;
    brief.pooled.blur_ms = 0.1;
    brief.further_blur_ms = {0.1, 0.1};
    const auto by_brief = taps.shift(brief);
    const auto by_all = taps.shift();
    REQUIRE(by_brief);
    REQUIRE(by_all);
    CHECK(by_brief->size < 0.3);
    CHECK(by_all->size > 0.6);
}

TEST_CASE("a band that needs more quiet than the taps have is left out") {
    const Taps taps = with_leads(0.3, 0.5);
    const auto without = taps.shift(bands(700.0, 40.0, 700.0)); // 40 Hz settle for 25 ms
    REQUIRE(without);
    CHECK(without->size == doctest::Approx(taps.shift(bands(700.0, 700.0, 700.0)).value().size));
    CHECK(!taps.shift(bands(40.0, 700.0, 1500.0)));
}
