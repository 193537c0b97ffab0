#include "dsp/landing/landing.hpp"
#include "skipped.hpp"

#include "analysis_rate.hpp"
#include "real_strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::recorded_strike;

namespace {

using Complex = std::complex<double>;

constexpr std::size_t landing_onset = 960;
constexpr std::size_t landing_size = 1080; // of the transform for 22 ms: the next product of 2, 3 and 5

// Strokes of two sticks on each other: Debian package hydrogen-drumkits, kit "ForzeeStereo".
std::vector<float> stick(int number) {
    return recorded_strike("hydrogen/data/drumkits/ForzeeStereo/Stick-" + std::to_string(number) + ".wav", 0);
}

bool sticks_missing() {
    const bool missing = stick(1).empty();
    if (missing) {
        retap::test::skipped("install the package hydrogen-drumkits");
    }
    return missing;
}

// A stroke at the landing_onset over faint noise, and another one `first` times as strong `early_ms` before it.
std::vector<float> tap(const std::vector<float>& stroke, double early_ms, double first, unsigned seed) {
    std::vector<float> sound = retap::test::white_noise(5760, 1e-4, seed);
    const auto early = static_cast<std::size_t>(std::lround(48.0 * early_ms));
    for (std::size_t i = 0; i < stroke.size(); ++i) {
        sound[landing_onset + i] += 0.5F * stroke[i];
        sound[landing_onset - early + i] += static_cast<float>(0.5 * first) * stroke[i];
    }
    return sound;
}

LandingTable related(const std::vector<TapSound>& taps, const std::vector<std::size_t>& take,
                     const LandingSettings& settings = {}) {
    return LandingSounds(taps, take, analysis_rate, settings).relate();
}

std::size_t index_of(double lag_ms) {
    return static_cast<std::size_t>(std::ranges::find(phat_lags_ms, lag_ms) - phat_lags_ms.begin());
}

// The spectrum of 2 ms before to 20 ms after the landing_onset, straight-edged tapers of 0.5 and 5 ms, by the plain
// sum.
std::vector<Complex> plain_phases(const std::vector<float>& sound) {
    std::vector<double> part(1056);
    for (std::size_t i = 0; i < part.size(); ++i) {
        const double in = std::min(1.0, static_cast<double>(i) / 24.0);
        const double out = std::min(1.0, static_cast<double>(part.size() - 1 - i) / 240.0);
        part[i] = in * out * static_cast<double>(sound[landing_onset - 96 + i]);
    }
    std::vector<Complex> spectrum(landing_size);
    for (std::size_t k = 0; k < landing_size; ++k) {
        for (std::size_t n = 0; n < part.size(); ++n) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(k * n % landing_size) / landing_size;
            spectrum[k] += part[n] * std::polar(1.0, -turn);
        }
        const double hz = 48000.0 * static_cast<double>(std::min(k, landing_size - k)) / landing_size;
        const double fade = std::clamp((hz - 14000.0) / 4000.0, 0.0, 1.0); // the band that counts
        spectrum[k] *= (0.5 + 0.5 * std::cos(std::numbers::pi * fade)) / std::abs(spectrum[k]);
    }
    return spectrum;
}

std::vector<double> bell(double sigma) {
    std::vector<double> weights;
    double sum = 0.0;
    const int reach = static_cast<int>(std::ceil(3.0 * sigma));
    for (int i = -reach; i <= reach; ++i) {
        weights.push_back(std::exp(-0.5 * i * i / (sigma * sigma)));
        sum += weights.back();
    }
    std::ranges::for_each(weights, [sum](double& w) { w /= sum; });
    return weights;
}

} // namespace

TEST_CASE("a landing is the energy of the plain phase-only correlation about its highest peak") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> a = tap(stick(1), 0.5, 0.4, 91);
    const std::vector<float> b = tap(stick(2), 0.0, 0.0, 92);
    LandingSettings settings;
    settings.noise_part = 0.0; // every frequency in full
    settings.chance_density = 1e-6;
    const std::vector<TapSound> taps{{a, Position(960.0)}, {b, Position(960.0)}};
    const std::vector<std::size_t> take{0, 0};
    const LandingTable table = related(taps, take, settings);
    REQUIRE(table.known(0, 1));

    const std::vector<Complex> one = plain_phases(a);
    const std::vector<Complex> other = plain_phases(b);
    std::vector<double> correlation(landing_size);
    for (std::size_t n = 0; n < landing_size; ++n) {
        for (std::size_t k = 0; k < landing_size; ++k) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(k * n % landing_size) / landing_size;
            correlation[n] += (one[k] * std::conj(other[k]) * std::polar(1.0, turn)).real() / landing_size;
        }
    }
    const auto at = [&](int lag) {
        return correlation[static_cast<std::size_t>((lag + 2 * static_cast<int>(landing_size)) %
                                                    static_cast<int>(landing_size))];
    };
    const auto blurred = [&](int lag, const std::vector<double>& weights, bool square) {
        const int reach = static_cast<int>(weights.size() / 2);
        double sum = 0.0;
        for (std::size_t i = 0; i < weights.size(); ++i) {
            const double v = at(lag + static_cast<int>(i) - reach);
            sum += weights[i] * (square ? v * v : v);
        }
        return sum;
    };
    int peak = 0;
    for (int lag = -240; lag < 240; ++lag) {
        if (std::abs(blurred(lag, bell(3.0), false)) > std::abs(blurred(peak, bell(3.0), false))) {
            peak = lag;
        }
    }
    double all = 0.0;
    for (int i = -240; i < 240; ++i) {
        all += at(peak + i) * at(peak + i);
    }
    for (std::size_t i = 0; i < phat_lags_ms.size(); ++i) {
        const int lag = static_cast<int>(std::lround(48.0 * phat_lags_ms.at(i)));
        const auto density = [&](int where) {
            return 10.0 * std::log10(blurred(where, bell(0.083 * 48.0), true) * 48.0 / all + 1e-6);
        };
        CHECK(static_cast<double>(table.row(0, 1)[i]) == doctest::Approx(density(peak + lag)).epsilon(0.002));
        CHECK(static_cast<double>(table.row(1, 0)[i]) == doctest::Approx(density(peak - lag)).epsilon(0.002));
    }
}

// (1 + a z) over its magnitude is 1 + a/2 (z - 1/z) and smaller terms: phase alone tells how far apart, not which
// first.
TEST_CASE("a light contact half a millisecond ahead shows half a millisecond to both sides of the main impact") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> early = tap(stick(1), 0.5, 0.4, 93);
    const std::vector<float> single = tap(stick(1), 0.0, 0.0, 94);
    const std::vector<TapSound> taps{{early, Position(960.0)}, {single, Position(960.0)}};
    const std::vector<std::size_t> take{0, 0};
    LandingSettings settings;
    settings.chance_density = 0.0; // what the correlation itself shows
    const LandingTable table = related(taps, take, settings);
    REQUIRE(table.known(0, 1));
    REQUIRE(table.known(1, 0));
    CHECK_FALSE(table.known(0, 0));
    const std::size_t ahead = index_of(-0.5);
    const std::size_t behind = index_of(0.5);
    for (const double elsewhere_ms : {-1.5, -0.8, -0.27, 0.27, 0.8, 1.7}) {
        CAPTURE(elsewhere_ms);
        const float elsewhere = table.row(0, 1)[index_of(elsewhere_ms)];
        CHECK(table.row(0, 1)[ahead] > elsewhere + 6.0F);
        CHECK(table.row(0, 1)[behind] > elsewhere + 6.0F);
    }
    CHECK(table.row(0, 1)[ahead] == table.row(1, 0)[behind]);
}

TEST_CASE("what two taps share by less than chance is all alike") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> a = tap(stick(1), 0.5, 0.4, 98);
    const std::vector<float> b = tap(stick(2), 0.0, 0.0, 99);
    const std::vector<TapSound> taps{{a, Position(960.0)}, {b, Position(960.0)}};
    LandingSettings bare;
    bare.chance_density = 0.0;
    const LandingTable with = related(taps, {0, 0});
    const LandingTable without = related(taps, {0, 0}, bare);
    for (std::size_t i = 0; i < phat_lags_ms.size(); ++i) {
        const double shared = std::pow(10.0, static_cast<double>(without.row(0, 1)[i]) / 10.0);
        CHECK(static_cast<double>(with.row(0, 1)[i]) == doctest::Approx(10.0 * std::log10(shared + 0.02)));
    }
}

TEST_CASE("level, polarity and place of a tap do not move its landing") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> a = tap(stick(1), 0.5, 0.4, 95);
    const std::vector<float> b = tap(stick(2), 0.0, 0.0, 96);
    std::vector<float> turned(a.size(), 0.0F);
    for (std::size_t i = 37; i < a.size(); ++i) { // later, softer, upside down
        turned[i] = -0.25F * a[i - 37];
    }
    const std::vector<std::size_t> take{0, 1};
    const LandingTable before = related(std::vector<TapSound>{{a, Position(960.0)}, {b, Position(960.0)}}, take);
    const LandingTable after = related(std::vector<TapSound>{{turned, Position(997.0)}, {b, Position(960.0)}}, take);
    for (std::size_t i = 0; i < phat_lags_ms.size(); ++i) {
        CHECK(after.row(0, 1)[i] == doctest::Approx(before.row(0, 1)[i]).epsilon(0.01));
    }
}

TEST_CASE("two copies of one tap know nothing of each other, silence and no taps harm nobody") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> a = tap(stick(1), 0.0, 0.0, 97);
    const std::vector<float> silence(5760, 0.0F);
    const std::vector<std::size_t> take{0, 0, 1};
    const LandingTable table =
        related(std::vector<TapSound>{{a, Position(960.0)}, {a, Position(960.0)}, {silence, Position(960.0)}}, take);
    CHECK_FALSE(table.known(0, 1));
    CHECK_FALSE(table.known(1, 0));
    for (const float v : table.row(0, 2)) {
        CHECK(std::isfinite(v));
    }
    CHECK(related({}, {}).taps() == 0);
}

TEST_CASE("a filter that turns all phases as a delay or a change of polarity does leaves every row as it was") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> a = tap(stick(1), 0.5, 0.4, 101);
    const std::vector<float> b = tap(stick(2), 0.0, 0.0, 102);
    const std::vector<float> c = tap(stick(3), 0.3, 0.2, 103);
    const std::vector<TapSound> taps{{a, Position(960.0)}, {b, Position(960.0)}, {c, Position(960.0)}};
    LandingSounds sounds(taps, std::vector<std::size_t>{0, 0, 1}, analysis_rate);
    const LandingTable plain = sounds.relate();
    std::vector<float> phase(sounds.bins());
    REQUIRE(phase.size() == landing_size / 2 + 1);
    for (std::size_t k = 0; k < phase.size(); ++k) { // later by seven samples, upside down
        phase[k] = static_cast<float>(std::numbers::pi * (1.0 - 2.0 * 7.0 * static_cast<double>(k) / landing_size));
    }
    const LandingTable turned = sounds.relate_recoloured(plain, std::vector<char>{0, 0, 1}, phase);
    for (std::size_t of = 0; of < 3; ++of) {
        for (std::size_t against = 0; against < 3; ++against) {
            CHECK(turned.known(of, against) == plain.known(of, against));
            for (std::size_t i = 0; i < phat_lags_ms.size(); ++i) {
                // Read backwards, the energy of 10 ms is that of one sample more at one end and one less at the other.
                CHECK(std::abs(turned.row(of, against)[i] - plain.row(of, against)[i]) < 0.005F);
            }
        }
    }
}

TEST_CASE("a filter moves what crosses between those that went through it and those that did not, and nothing else") {
    if (sticks_missing()) {
        return;
    }
    const std::vector<float> a = tap(stick(1), 0.5, 0.4, 104);
    const std::vector<float> b = tap(stick(2), 0.0, 0.0, 105);
    const std::vector<float> c = tap(stick(3), 0.3, 0.2, 106);
    const std::vector<float> d = tap(stick(0), 0.0, 0.0, 107);
    const std::vector<TapSound> taps{
        {a, Position(960.0)}, {b, Position(960.0)}, {c, Position(960.0)}, {d, Position(960.0)}};
    LandingSounds sounds(taps, std::vector<std::size_t>{0, 0, 1, 1}, analysis_rate);
    const LandingTable plain = sounds.relate();
    std::vector<float> phase(sounds.bins());
    for (std::size_t k = 0; k < phase.size(); ++k) { // to a third of a turn back and forth, every 2 kHz
        phase[k] = 2.0F * std::sin(0.14F * static_cast<float>(k));
    }
    const std::vector<char> through{0, 1, 0, 1};
    const LandingTable filtered = sounds.relate_recoloured(plain, through, phase);
    for (std::size_t of = 0; of < 4; ++of) {
        for (std::size_t against = 0; against < 4; ++against) {
            CAPTURE(of);
            CAPTURE(against);
            CHECK((filtered.row(of, against) == plain.row(of, against)) == (through[of] == through[against]));
        }
    }
}
