#include "bite/modal_voice.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace retap::bite;

namespace {

constexpr double voice_rate = 96000.0;

// A half-sine push of one tooth.
double push(double t_s) {
    constexpr double long_s = 0.4e-3;
    return t_s > 0.0 && t_s < long_s ? std::sin(std::numbers::pi * t_s / long_s) : 0.0;
}

Closing pushed(std::size_t pair) {
    Closing closing{.force_rate_hz = voice_rate, .frames = 480};
    closing.normal_n.assign(closing.frames * pair_count, 0.0);
    for (std::size_t n = 0; n < closing.frames; ++n) {
        closing.normal_n[n * pair_count + pair] = push(static_cast<double>(n) / voice_rate);
    }
    return closing;
}

Patient one_mode(double hz, double q) {
    Patient patient = draw_patient(1);
    SkullMode mode{.frequency_hz = hz, .q = q};
    mode.participation.fill(1.0);
    patient.modes = {mode};
    return patient;
}

Pickup plain_pickup(double delay_s) {
    Pickup pickup{.mode_gain = {1.0}};
    pickup.delay_s.fill(delay_s);
    pickup.path_gain.fill(1.0);
    return pickup;
}

// The push as the voice is given it: straight between the frames, and again between the frames after the delay.
double straight(double frame, double delay_frames) {
    const auto at_frame = [](double n) { return push(n / voice_rate); };
    const auto between = [](auto&& value, double n) {
        const double low = std::floor(n);
        return value(low) + (n - low) * (value(low + 1.0) - value(low));
    };
    const auto delayed = [&](double n) { return between(at_frame, n - delay_frames); };
    return between(delayed, frame);
}

// The same oscillator in twenty small steps a frame (Runge-Kutta of fourth order), read off at the frames.
std::vector<double> plain_twin(double hz, double q, double delay_s, std::size_t frames) {
    const double w = 2.0 * std::numbers::pi * hz;
    const double a = w / (2.0 * q);
    constexpr int parts = 20;
    const double h = 1.0 / (voice_rate * parts);
    double x = 0.0;
    double v = 0.0;
    std::vector<double> out;
    for (std::size_t n = 0; n < frames; ++n) {
        out.push_back(v);
        for (int k = 0; k < parts; ++k) {
            const double t = static_cast<double>(n) / voice_rate + k * h;
            const auto pull = [&](double at, double px, double pv) {
                return straight(at * voice_rate, delay_s * voice_rate) - 2.0 * a * pv - w * w * px;
            };
            const double k1x = v, k1v = pull(t, x, v);
            const double k2x = v + 0.5 * h * k1v, k2v = pull(t + 0.5 * h, x + 0.5 * h * k1x, v + 0.5 * h * k1v);
            const double k3x = v + 0.5 * h * k2v, k3v = pull(t + 0.5 * h, x + 0.5 * h * k2x, v + 0.5 * h * k2v);
            const double k4x = v + h * k3v, k4v = pull(t + h, x + h * k3x, v + h * k3v);
            x += h / 6.0 * (k1x + 2.0 * k2x + 2.0 * k3x + k4x);
            v += h / 6.0 * (k1v + 2.0 * k2v + 2.0 * k3v + k4v);
        }
    }
    return out;
}

} // namespace

TEST_CASE("a mode answers a push as its equation of motion says") {
    for (const double hz : {150.0, 1000.0, 6000.0}) {
        for (const double delay_s : {0.0, 0.3137e-3}) {
            const Patient patient = one_mode(hz, 8.0);
            const Stretch heard = hear_closing(pushed(3), patient, plain_pickup(delay_s));
            const auto twin = plain_twin(hz, 8.0, delay_s, std::min<std::size_t>(heard.samples.size(), 2000));
            double error = 0.0;
            double size = 0.0;
            for (std::size_t n = 0; n < twin.size(); ++n) {
                error += std::pow(heard.samples[n] - twin[n], 2.0);
                size += twin[n] * twin[n];
            }
            CAPTURE(hz);
            CAPTURE(delay_s);
            CHECK(10.0 * std::log10(error / size) < -90.0);
        }
    }
}

TEST_CASE("it rings on after the push until every mode is 60 dB down") {
    const Patient patient = one_mode(300.0, 10.0);
    const Stretch heard = hear_closing(pushed(3), patient, plain_pickup(0.0));
    const double peak = std::abs(*std::max_element(heard.samples.begin(), heard.samples.end(),
                                                   [](double a, double b) { return std::abs(a) < std::abs(b); }));
    CHECK(std::abs(heard.samples.back()) < 1.1e-3 * peak);
    CHECK(static_cast<double>(heard.samples.size()) / voice_rate < 0.1);
}

TEST_CASE("modes above half the force voice_rate are left out instead of folding down") {
    const Patient patient = one_mode(0.6 * voice_rate, 10.0);
    const Stretch heard = hear_closing(pushed(3), patient, plain_pickup(0.0));
    CHECK(rms(heard.samples) == 0.0);
}

TEST_CASE("alike teeth put the same into a mode, and half-way alike half of what sets them apart") {
    const std::vector<SkullMode> drawn = draw_patient(5).modes;
    const std::vector<SkullMode> half = alike_teeth(drawn, 0.5);
    const std::vector<SkullMode> same = alike_teeth(drawn, 1.0);
    for (std::size_t m = 0; m < drawn.size(); ++m) {
        const auto [low, high] = std::ranges::minmax(same[m].participation);
        CHECK(high - low == doctest::Approx(0.0));
        const auto [half_low, half_high] = std::ranges::minmax(half[m].participation);
        const auto [all_low, all_high] = std::ranges::minmax(drawn[m].participation);
        CHECK(half_high - half_low == doctest::Approx(0.5 * (all_high - all_low)));
        CHECK(same[m].frequency_hz == drawn[m].frequency_hz);
    }
    CHECK(alike_teeth(drawn, 0.0)[7].participation == drawn[7].participation);
}

TEST_CASE("blows vary what each tooth puts into each mode by the scatter asked for, the same way for one seed") {
    const std::vector<SkullMode> drawn = draw_patient(5).modes;
    const std::vector<SkullMode> hit = vary_blows(drawn, 0.2, 3);
    double squares = 0.0;
    for (std::size_t m = 0; m < drawn.size(); ++m) {
        for (std::size_t i = 0; i < pair_count; ++i) {
            squares += std::pow(hit[m].participation.at(i) - drawn[m].participation.at(i), 2.0);
        }
    }
    // 560 normal values: their spread is known within 3 %, three of them.
    CHECK(std::sqrt(squares / static_cast<double>(drawn.size() * pair_count)) == doctest::Approx(0.2).epsilon(0.09));
    CHECK(vary_blows(drawn, 0.2, 3)[4].participation == hit[4].participation);
    CHECK(vary_blows(drawn, 0.2, 4)[4].participation != hit[4].participation);
}
