// What people in the clinic do: talk, and put instruments down.
#include "bite/clinic.hpp"
#include "bite/resonator.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace retap::bite::clinic {

namespace {

constexpr double one_turn = 2.0 * std::numbers::pi;

// First three resonances of the throat for open, closed, front and back vowels of an adult (order of magnitude, M).
constexpr std::array<std::array<double, 3>, 6> vowels{{{730.0, 1100.0, 2450.0},
                                                       {530.0, 1850.0, 2500.0},
                                                       {280.0, 2250.0, 2950.0},
                                                       {560.0, 850.0, 2400.0},
                                                       {310.0, 870.0, 2250.0},
                                                       {490.0, 1350.0, 1700.0}}};

// One instrument met the tray at sample `at`: a handful of metal modes.
struct Instrument {
    struct Mode {
        double hz, decay_s, level, phase;
    };
    std::vector<Mode> modes;

    explicit Instrument(Random& random) {
        const std::size_t count = 6 + random.below(8);
        for (std::size_t i = 0; i < count; ++i) {
            modes.push_back({.hz = random.log_uniform(500.0, 8000.0),
                             .decay_s = random.log_uniform(0.008, 0.09),
                             .level = random.log_normal(1.0, 0.5),
                             .phase = random.uniform(0.0, one_turn)});
        }
    }
    void strike(std::vector<double>& out, double rate_hz, std::size_t at, double level) const {
        constexpr double attack_s = 2e-4;
        for (const Mode& m : modes) {
            if (m.hz > 0.45 * rate_hz) {
                continue;
            }
            const auto end = std::min(out.size(), at + static_cast<std::size_t>(7.0 * m.decay_s * rate_hz));
            for (std::size_t n = at; n < end; ++n) {
                const double t = static_cast<double>(n - at) / rate_hz;
                out[n] += level * m.level * (1.0 - std::exp(-t / attack_s)) * std::exp(-t / m.decay_s) *
                          std::sin(one_turn * m.hz * t + m.phase);
            }
        }
    }
};

} // namespace

std::vector<double> clunks(std::size_t length, double rate_hz, Random& random) {
    std::vector<double> out(length, 0.0);
    double at_s = random.uniform(0.02, 0.25);
    while (at_s * rate_hz < static_cast<double>(length)) {
        const Instrument instrument(random);
        double level = random.log_normal(1.0, 0.3);
        double bounce_s = random.uniform(0.02, 0.07);
        double now_s = at_s;
        const std::size_t bounces = 1 + random.below(4);
        for (std::size_t b = 0; b < bounces && now_s * rate_hz < static_cast<double>(length); ++b) {
            instrument.strike(out, rate_hz, static_cast<std::size_t>(now_s * rate_hz), level);
            level *= random.uniform(0.3, 0.6);
            now_s += bounce_s;
            bounce_s *= random.uniform(0.5, 0.75);
        }
        at_s += random.uniform(0.4, 1.1);
    }
    return out;
}

std::vector<double> speech(std::size_t length, double rate_hz, Random& random) {
    std::vector<double> out(length, 0.0);
    const double top = 0.45 * rate_hz;
    const double pitch = random.log_uniform(95.0, 230.0);
    const double throat = random.uniform(0.9, 1.15);
    std::array<Resonator, 3> formants{Resonator(500.0, 90.0, rate_hz), Resonator(1500.0, 120.0, rate_hz),
                                      Resonator(2500.0, 180.0, rate_hz)};
    Resonator teeth(std::min(top, random.uniform(3800.0, 6500.0)), 2500.0, rate_hz);
    std::array<double, 3> now = vowels[0];
    // Air pressure from the vocal folds falls by 6 dB per octave as heard from outside.
    const double soften = std::exp(-one_turn * 300.0 / rate_hz);
    double source = 0.0;
    double phase = 0.0;
    std::size_t n = 0;
    while (n < length) {
        // A syllable: perhaps a breathed consonant, then a vowel towards which the throat moves.
        const auto breathed =
            static_cast<std::size_t>(random.uniform(0.0, 1.0) < 0.6 ? random.uniform(0.03, 0.11) * rate_hz : 0.0);
        const auto voiced = static_cast<std::size_t>(random.uniform(0.07, 0.22) * rate_hz);
        const auto pause = static_cast<std::size_t>(
            (random.uniform(0.0, 1.0) < 0.18 ? random.uniform(0.15, 0.5) : random.uniform(0.0, 0.04)) * rate_hz);
        const double consonant = random.uniform(0.15, 0.5);
        const double stress = random.log_normal(1.0, 0.25);
        const double tune = random.normal(1.0, 0.08);
        const auto target = vowels.at(random.below(vowels.size()));
        for (std::size_t k = 0; k < breathed && n < length; ++k, ++n) {
            const double up = std::sin(std::numbers::pi * static_cast<double>(k) / static_cast<double>(breathed));
            out[n] = 2.0 * consonant * up * teeth(random.normal(0.0, 1.0));
        }
        const double glide = std::exp(-1.0 / (0.025 * rate_hz));
        for (std::size_t k = 0; k < voiced && n < length; ++k, ++n) {
            const double part = static_cast<double>(k) / static_cast<double>(voiced);
            phase += pitch * tune * (1.1 - 0.2 * part) / rate_hz;
            double glottis = 0.02 * random.normal(0.0, 1.0);
            if (phase >= 1.0) {
                phase -= std::floor(phase);
                glottis += std::sqrt(rate_hz / 100.0);
            }
            source = soften * source + glottis;
            double sum = 0.0;
            for (std::size_t f = 0; f < formants.size(); ++f) {
                now.at(f) = target.at(f) * throat + glide * (now.at(f) - target.at(f) * throat);
                formants.at(f).tune(std::min(top, now.at(f)), 70.0 + 0.04 * now.at(f));
                sum += formants.at(f)(source) * (f == 0 ? 2.0 : 3.0);
            }
            out[n] = 0.3 * stress * std::pow(std::sin(std::numbers::pi * part), 0.6) * sum;
        }
        n += pause;
    }
    return out;
}

} // namespace retap::bite::clinic
