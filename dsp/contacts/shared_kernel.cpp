#include "dsp/contacts/shared_kernel.hpp"

#include "dsp/base/cholesky.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <span>
#include <utility>

namespace retap::dsp {

namespace {

void fill_delay(std::span<Complex> out, const TapSpectra& spectra, double t_ms) {
    // several turns side by side, since each waits for its own last value
    constexpr std::size_t lanes = 4;
    const Complex step = std::polar(1.0, -static_cast<double>(lanes) * spectra.step_radians * t_ms);
    Phasor phasor = spectra.phasor(t_ms);
    std::size_t f = 0;
    for (; f < std::min(lanes, out.size()); ++f) {
        out[f] = phasor.next();
    }
    for (; f < out.size(); ++f) {
        out[f] = times(out[f - lanes], step);
    }
}

class Fitter {
public:
    Fitter(const TapSpectra& spectra, Arrivals arrivals)
        : spectra_(spectra), taps_(spectra.taps.size()), bins_(spectra.taps.front().size()),
          per_tap_(arrivals == Arrivals::two ? 4 : 2), first_(taps_ * bins_), second_(taps_ * bins_),
          played_(taps_ * bins_), left_(taps_ * bins_), sound_(bins_), power_(bins_), over_root_power_(bins_) {}

    // Fills everything that hangs on the playing; returns the residual.
    double evaluate(const std::vector<Playing>& playing) {
        std::vector<Complex> lag(bins_);
        std::ranges::fill(sound_, Complex(0.0));
        std::ranges::fill(power_, 1e-12);
        for (std::size_t i = 0; i < taps_; ++i) {
            const Playing& p = playing[i];
            fill_delay(std::span(first_).subspan(i * bins_, bins_), spectra_, p.delay_ms);
            const bool twice = p.ratio > 0.0 || per_tap_ == 4;
            if (twice) {
                fill_delay(lag, spectra_, p.lag_ms);
            }
            const double level = std::exp(p.log_level);
            for (std::size_t f = 0; f < bins_; ++f) {
                const std::size_t at = i * bins_ + f;
                first_[at] *= level;
                played_[at] = first_[at];
                if (twice) {
                    second_[at] = times(first_[at], lag[f]);
                    played_[at] += p.ratio * second_[at];
                }
                sound_[f] += times(std::conj(played_[at]), spectra_.taps[i][f]);
                power_[f] += std::norm(played_[at]);
            }
        }
        double residual = 0.0;
        for (std::size_t f = 0; f < bins_; ++f) {
            sound_[f] /= power_[f];
            over_root_power_[f] = 1.0 / std::sqrt(power_[f]);
        }
        for (std::size_t i = 0; i < taps_; ++i) {
            for (std::size_t f = 0; f < bins_; ++f) {
                const std::size_t at = i * bins_ + f;
                left_[at] = spectra_.taps[i][f] - times(played_[at], sound_[f]);
                residual += std::norm(left_[at]);
            }
        }
        return residual;
    }

    // Normal equations at the playing last evaluated.
    void linearise(const std::vector<Playing>& playing) {
        const std::size_t n = taps_ * per_tap_;
        std::vector<double> shared(n * bins_ * 2); // what each derivative shares with the played sound
        matrix_.assign(n * n, 0.0);
        gradient_.assign(n, 0.0);
        std::vector<Complex> slope(bins_ * per_tap_);
        for (std::size_t i = 0; i < taps_; ++i) {
            fill_slopes(slope, i, playing[i]);
            for (std::size_t p = 0; p < per_tap_; ++p) {
                const std::size_t row = i * per_tap_ + p;
                const Complex* v = slope.data() + p * bins_;
                double down = 0.0;
                for (std::size_t f = 0; f < bins_; ++f) {
                    down += v[f].real() * left_[i * bins_ + f].real() + v[f].imag() * left_[i * bins_ + f].imag();
                    const Complex c = times(std::conj(v[f]), played_[i * bins_ + f]) * over_root_power_[f];
                    shared[(row * bins_ + f) * 2] = c.real();
                    shared[(row * bins_ + f) * 2 + 1] = c.imag();
                }
                gradient_[row] = down;
                for (std::size_t q = 0; q <= p; ++q) {
                    const Complex* u = slope.data() + q * bins_;
                    double sum = 0.0;
                    for (std::size_t f = 0; f < bins_; ++f) {
                        sum += v[f].real() * u[f].real() + v[f].imag() * u[f].imag();
                    }
                    matrix_[row * n + i * per_tap_ + q] = sum;
                }
            }
        }
        for (std::size_t row = 0; row < n; ++row) {
            for (std::size_t column = 0; column <= row; ++column) {
                const double* a = shared.data() + row * bins_ * 2;
                const double* b = shared.data() + column * bins_ * 2;
                double sums[4] = {0.0, 0.0, 0.0, 0.0};
                std::size_t k = 0;
                for (; k + 4 <= 2 * bins_; k += 4) {
                    for (std::size_t l = 0; l < 4; ++l) {
                        sums[l] += a[k + l] * b[k + l];
                    }
                }
                for (; k < 2 * bins_; ++k) {
                    sums[0] += a[k] * b[k];
                }
                matrix_[row * n + column] -= sums[0] + sums[1] + sums[2] + sums[3];
                matrix_[column * n + row] = matrix_[row * n + column];
            }
        }
    }

    // The step from the equations, held back by `damping`; nothing where they have no solution.
    [[nodiscard]] std::vector<double> step(double damping) const {
        const std::size_t n = gradient_.size();
        std::vector<double> a = matrix_;
        double trace = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            trace += matrix_[i * n + i];
        }
        for (std::size_t i = 0; i < n; ++i) { // delay and level of all taps together are the sound's own: not settled
            a[i * n + i] += damping * std::abs(matrix_[i * n + i]) + 1e-9 * trace;
        }
        const auto factor = Cholesky::factor(a, n);
        return factor ? factor->solve(gradient_) : std::vector<double>{};
    }

    [[nodiscard]] const std::vector<Complex>& sound() const { return sound_; }
    [[nodiscard]] std::size_t per_tap() const { return per_tap_; }

private:
    // Derivatives of what tap `i` plays, times the sound: by delay, log level, lag and ratio.
    void fill_slopes(std::vector<Complex>& slope, std::size_t i, const Playing& p) const {
        for (std::size_t f = 0; f < bins_; ++f) {
            const std::size_t at = i * bins_ + f;
            const double w = spectra_.first_radians + spectra_.step_radians * static_cast<double>(f);
            const Complex all = times(played_[at], sound_[f]);
            slope[f] = {w * all.imag(), -w * all.real()};
            slope[bins_ + f] = all;
            if (per_tap_ == 4) {
                const Complex later = times(second_[at], sound_[f]);
                slope[2 * bins_ + f] = {p.ratio * w * later.imag(), -p.ratio * w * later.real()};
                slope[3 * bins_ + f] = later;
            }
        }
    }

    const TapSpectra& spectra_;
    std::size_t taps_;
    std::size_t bins_;
    std::size_t per_tap_;
    std::vector<Complex> first_;
    std::vector<Complex> second_;
    std::vector<Complex> played_;
    std::vector<Complex> left_;
    std::vector<Complex> sound_;
    std::vector<double> power_;
    std::vector<double> over_root_power_;
    std::vector<double> matrix_;
    std::vector<double> gradient_;
};

} // namespace

KernelFit fit_shared_kernel(const TapSpectra& spectra, std::vector<Playing> start, Arrivals arrivals,
                            double shortest_ms, double longest_ms, std::size_t max_steps) {
    assert(!spectra.taps.empty() && start.size() == spectra.taps.size());
    assert(std::ranges::all_of(spectra.taps, [&](const auto& t) { return t.size() == spectra.taps.front().size(); }));
    Fitter fitter(spectra, arrivals);
    KernelFit fit{.playing = std::move(start)};
    fit.residual = fitter.evaluate(fit.playing);
    double damping = 1e-2;
    for (std::size_t k = 0; k < max_steps; ++k) {
        fitter.linearise(fit.playing);
        const double before = fit.residual;
        for (int attempt = 0; attempt < 5 && fit.residual >= before; ++attempt) {
            const std::vector<double> step = fitter.step(damping);
            std::vector<Playing> next = fit.playing;
            for (std::size_t i = 0; !step.empty() && i < next.size(); ++i) {
                const double* s = step.data() + i * fitter.per_tap();
                next[i].delay_ms += s[0];
                next[i].log_level += s[1];
                if (arrivals == Arrivals::two) {
                    const double lag = std::abs(next[i].lag_ms) + std::copysign(s[2], s[2] * next[i].lag_ms);
                    next[i].lag_ms = std::copysign(std::clamp(lag, shortest_ms, longest_ms), next[i].lag_ms);
                    next[i].ratio = std::clamp(next[i].ratio + s[3], 0.0, 10.0);
                }
            }
            const double residual = fitter.evaluate(next);
            if (residual < before) {
                fit.playing = std::move(next);
                fit.residual = residual;
                damping = std::max(damping / 5.0, 1e-6);
            } else {
                damping *= 5.0;
            }
        }
        if (fit.residual >= before) { // the last attempt was another
            fitter.evaluate(fit.playing);
        }
        if (fit.residual > before * (1.0 - 1e-4)) {
            break;
        }
    }
    fit.sound = fitter.sound();
    return fit;
}

} // namespace retap::dsp
