#include "bite/modal_voice.hpp"

#include "bite/random.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::bite {

namespace {

// x'' + 2 a x' + w^2 x = f, stepped exactly for f linear within a step (first-order hold). One array entry per mode,
// so that the inner loop runs over modes.
struct ModeBank {
    std::vector<double> a11, a12, a21, a22; // free motion over one step
    std::vector<double> p1, p2, q1, q2;     // response to the force at the start and at the end of the step
    std::vector<double> x, v, gain;
    std::vector<std::size_t> mode;

    void add(std::size_t index, const SkullMode& m, double g, double step_s) {
        const double w = 2.0 * std::numbers::pi * m.frequency_hz;
        const double a = w / (2.0 * m.q);
        const double wd = std::sqrt(std::max(w * w - a * a, 1e-12));
        const double e = std::exp(-a * step_s);
        const double c = std::cos(wd * step_s);
        const double s = std::sin(wd * step_s) / wd;
        const double f11 = e * (c + a * s);
        const double f12 = e * s;
        const double f21 = -w * w * f12;
        const double f22 = e * (c - a * s);
        // Constant force 1 from rest: displacement (1 - f11) / w^2, velocity f12. A ramp t / step from rest is the time
        // integral of that, divided by the step.
        const double hold_x = (1.0 - f11) / (w * w);
        const double hold_v = f12;
        const double ramp_v = hold_x / step_s;
        const double ramp_x = (step_s - 2.0 * a * hold_x - f12) / (w * w * step_s);
        a11.push_back(f11);
        a12.push_back(f12);
        a21.push_back(f21);
        a22.push_back(f22);
        p1.push_back(hold_x - ramp_x);
        p2.push_back(hold_v - ramp_v);
        q1.push_back(ramp_x);
        q2.push_back(ramp_v);
        x.push_back(0.0);
        v.push_back(0.0);
        gain.push_back(g);
        mode.push_back(index);
    }
};

// Force of one tooth `frames` before frame `at`, straight between frames.
double delayed(const std::vector<double>& force, std::size_t frames, std::size_t pair, double at) {
    if (at < 0.0) {
        return 0.0;
    }
    const auto whole = static_cast<std::size_t>(at);
    if (whole + 1 >= frames) {
        return 0.0;
    }
    const double part = at - static_cast<double>(whole);
    const double low = force[whole * pair_count + pair];
    const double high = force[(whole + 1) * pair_count + pair];
    return low + part * (high - low);
}

} // namespace

std::vector<SkullMode> alike_teeth(std::vector<SkullMode> modes, double share) {
    assert(share >= 0.0 && share <= 1.0);
    for (SkullMode& mode : modes) {
        for (auto* teeth : {&mode.participation, &mode.tangential_participation}) {
            const double most = std::ranges::max(*teeth, {}, [](double p) { return std::abs(p); });
            for (double& tooth : *teeth) {
                tooth = std::lerp(tooth, most, share);
            }
        }
    }
    return modes;
}

std::vector<SkullMode> vary_blows(std::vector<SkullMode> modes, double scatter, std::uint64_t seed) {
    Random random(seed, "blows");
    for (SkullMode& mode : modes) {
        for (std::size_t i = 0; i < pair_count; ++i) {
            mode.participation.at(i) += random.normal(0.0, scatter);
            mode.tangential_participation.at(i) += random.normal(0.0, scatter);
        }
    }
    return modes;
}

Stretch hear_closing(const Closing& closing, const Patient& patient, const Pickup& pickup) {
    assert(pickup.mode_gain.size() == patient.modes.size());
    const double rate = closing.force_rate_hz;
    ModeBank bank;
    double longest_ring_s = 0.0;
    for (std::size_t m = 0; m < patient.modes.size(); ++m) {
        const SkullMode& mode = patient.modes[m];
        if (mode.frequency_hz < 0.5 * rate) {
            bank.add(m, mode, pickup.mode_gain[m], 1.0 / rate);
            longest_ring_s = std::max(longest_ring_s, 6.91 * mode.q / (std::numbers::pi * mode.frequency_hz));
        }
    }
    const std::size_t modes = bank.mode.size();
    std::vector<double> into(pair_count * modes); // participation, tooth by tooth
    std::vector<double> side_into(pair_count * modes);
    for (std::size_t i = 0; i < pair_count; ++i) {
        for (std::size_t m = 0; m < modes; ++m) {
            into[i * modes + m] = patient.modes[bank.mode[m]].participation.at(i) * pickup.path_gain.at(i);
            side_into[i * modes + m] =
                patient.modes[bank.mode[m]].tangential_participation.at(i) * pickup.path_gain.at(i);
        }
    }
    const double slowest_s = *std::max_element(pickup.delay_s.begin(), pickup.delay_s.end());
    const std::size_t driven = closing.frames + static_cast<std::size_t>(std::ceil(slowest_s * rate)) + 1;
    const std::size_t length = driven + static_cast<std::size_t>(longest_ring_s * rate);
    Stretch out{.rate_hz = rate, .start_s = closing.start_s, .samples = std::vector<double>(length, 0.0)};
    std::vector<double> now(modes, 0.0);
    std::vector<double> before(modes, 0.0);
    for (std::size_t n = 0; n < length; ++n) {
        std::fill(now.begin(), now.end(), 0.0);
        if (n < driven) {
            for (std::size_t i = 0; i < pair_count; ++i) {
                const double at = static_cast<double>(n) - pickup.delay_s.at(i) * rate;
                const double f = delayed(closing.normal_n, closing.frames, i, at);
                if (f != 0.0) {
                    const double* row = into.data() + i * modes;
                    for (std::size_t m = 0; m < modes; ++m) {
                        now[m] += row[m] * f;
                    }
                }
                if (!closing.tangential_n.empty()) {
                    const double side = delayed(closing.tangential_n, closing.frames, i, at);
                    const double* row = side_into.data() + i * modes;
                    for (std::size_t m = 0; m < modes; ++m) {
                        now[m] += row[m] * side;
                    }
                }
            }
        }
        double heard = 0.0;
        for (std::size_t m = 0; m < modes; ++m) {
            const double x = bank.x[m];
            const double v = bank.v[m];
            bank.x[m] = bank.a11[m] * x + bank.a12[m] * v + bank.p1[m] * before[m] + bank.q1[m] * now[m];
            bank.v[m] = bank.a21[m] * x + bank.a22[m] * v + bank.p2[m] * before[m] + bank.q2[m] * now[m];
            heard += bank.gain[m] * bank.v[m];
        }
        out.samples[n] = heard;
        std::swap(now, before);
    }
    return out;
}

} // namespace retap::bite
