#include "dsp/contacts/shifting_arrival.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace retap::dsp {

namespace {

constexpr std::size_t min_taps = 4;
constexpr double usual_ratio = 0.5; // where the fit begins from a guess

Spectrum undone(const TapSpectra& s, const Spectrum& tap, const Playing& p) {
    Spectrum out(tap.size());
    Phasor phasor = s.phasor(-p.delay_ms);
    const double level = std::exp(-p.log_level);
    for (std::size_t f = 0; f < tap.size(); ++f) {
        out[f] = level * times(tap[f], phasor.next());
    }
    return out;
}

TapSpectra all_undone(const TapSpectra& s, const std::vector<Playing>& playing) {
    TapSpectra out = s;
    for (std::size_t i = 0; i < playing.size(); ++i) {
        out.taps[i] = undone(s, s.taps[i], playing[i]);
    }
    return out;
}

// Where to look for a delay, and how finely. `stride`: every so many frequencies will do for a wide search.
struct DelaySearch {
    double around_ms = 0.0;
    double reach_ms = 0.0;
    double step_ms = 0.02;
    std::size_t stride = 1;
};

// Delay at which `tap` agrees best with `reference`.
double best_delay(const TapSpectra& s, const Spectrum& tap, const Spectrum& reference, const DelaySearch& search) {
    const double step_radians = s.step_radians * static_cast<double>(search.stride);
    Phasor middle(s.first_radians, step_radians, search.around_ms);
    Spectrum product;
    product.reserve(tap.size() / search.stride + 1);
    for (std::size_t f = 0; f < tap.size(); f += search.stride) {
        product.push_back(times(times(std::conj(tap[f]), reference[f]), middle.next()));
    }
    double best = 0.0;
    double most = -1e300;
    const auto steps = static_cast<int>(search.reach_ms / search.step_ms);
    for (int k = 0; k <= steps; ++k) { // a delay by as much to either side of the middle turns the other way
        const double t = search.step_ms * k;
        Phasor phasor(s.first_radians, step_radians, t);
        double even = 0.0;
        double odd = 0.0;
        for (const Complex& p : product) {
            const Complex z = phasor.next();
            even += p.real() * z.real();
            odd += p.imag() * z.imag();
        }
        if (even + std::abs(odd) > most) {
            most = even + std::abs(odd);
            best = odd > 0.0 ? -t : t;
        }
    }
    return search.around_ms + best;
}

// Over a wide range, then closely. A stride of 4 is 188 Hz: delays up to 2.6 ms are told apart.
double best_delay_within(const TapSpectra& s, const Spectrum& tap, const Spectrum& reference, double around_ms,
                         double reach_ms) {
    const std::size_t stride = reach_ms < 2.0 ? 4 : 1;
    const double near = best_delay(s, tap, reference, {.around_ms = around_ms, .reach_ms = reach_ms, .stride = stride});
    return best_delay(s, tap, reference, {.around_ms = near, .reach_ms = 0.02, .step_ms = 0.004});
}

std::vector<Playing> aligned(const TapSpectra& s, const ShiftSettings& settings) {
    std::vector<Playing> playing(s.taps.size());
    Spectrum reference = s.taps.front();
    for (int round = 0; round < 2; ++round) {
        for (std::size_t i = 0; i < playing.size(); ++i) {
            double& t = playing[i].delay_ms;
            t = round == 0 ? best_delay_within(s, s.taps[i], reference, 0.0, settings.align_ms)
                           : best_delay(s, s.taps[i], reference, {.around_ms = t, .reach_ms = 0.02, .step_ms = 0.004});
        }
        std::ranges::fill(reference, Complex(0.0));
        for (std::size_t i = 0; i < playing.size(); ++i) {
            const Spectrum one = undone(s, s.taps[i], playing[i]);
            std::ranges::transform(reference, one, reference.begin(), std::plus<>());
        }
    }
    return playing;
}

// The best of them, each some steps from the others.
std::vector<GapPromise> best_of(std::vector<GapPromise> promises, double over_noise, const ShiftSettings& settings) {
    const double excess = over_noise > 1.0 ? 1.0 - 1.0 / over_noise : 0.0; // what the noise leaves to be explained
    const double worth = std::max(settings.worth_a_look, settings.worth_of_excess * excess);
    std::ranges::stable_sort(promises,
                             [](const GapPromise& a, const GapPromise& b) { return a.explained > b.explained; });
    std::vector<GapPromise> best;
    for (const GapPromise& p : promises) {
        const bool near = std::ranges::any_of(
            best, [&](const GapPromise& b) { return std::abs(b.gap_ms - p.gap_ms) < 3.5 * settings.search.step_ms; });
        if (p.explained >= worth && !near && best.size() < settings.starts) {
            best.push_back(p);
        }
    }
    return best;
}

std::vector<std::vector<Playing>> starts(const TapSpectra& s, const KernelFit& one, double over_noise,
                                         std::span<const double> guesses_ms, const ShiftSettings& settings) {
    std::vector<std::vector<Playing>> all;
    for (const GapPromise& p : best_of(score_gaps(all_undone(s, one.playing), settings.search), over_noise, settings)) {
        all.push_back(one.playing);
        for (Playing& tap : all.back()) {
            tap.lag_ms = p.gap_ms;
            tap.ratio = p.ratio;
        }
    }
    if (guesses_ms.size() == s.taps.size()) {
        const double middle = median(guesses_ms);
        for (const double sign : {1.0, -1.0}) {
            all.push_back(one.playing);
            for (std::size_t i = 0; i < guesses_ms.size(); ++i) {
                const bool like_others = std::abs(guesses_ms[i] / middle - 1.0) < settings.widest_scatter;
                all.back()[i].lag_ms = sign * (like_others ? guesses_ms[i] : middle);
                all.back()[i].ratio = usual_ratio;
            }
        }
    }
    return all;
}

// How one tap plays the shared sound, sought by small steps over a wide range, since the fit finds the nearest minimum
// only: whichever arrival explains most, and the other one before or after it.
Playing sought(const TapSpectra& s, const Spectrum& tap, const Spectrum& sound, const Playing& start, double middle_ms,
               const ShiftSettings& settings) {
    const double energy = dot(sound, sound);
    Spectrum with_itself(sound.size());
    std::ranges::transform(sound, with_itself.begin(), [](Complex v) { return Complex(std::norm(v)); });
    const double begin = std::max(settings.search.shortest_ms, (1.0 - settings.widest_scatter) * std::abs(middle_ms));
    const double end = std::min(settings.longest_ms, (1.0 + settings.widest_scatter) * std::abs(middle_ms));
    Playing best = start;
    double most = 0.0;
    const double main = best_delay_within(s, tap, sound, start.delay_ms, end);
    for (const double delay : {start.delay_ms, main}) {
        Playing p = start;
        p.delay_ms = delay;
        const Spectrum once = undone(s, tap, p);
        Spectrum with_tap(sound.size());
        for (std::size_t f = 0; f < sound.size(); ++f) {
            with_tap[f] = times(std::conj(once[f]), sound[f]);
        }
        const double first = dot(once, sound);
        const auto steps = static_cast<int>((end - begin) / settings.lag_step_ms);
        for (int k = -steps - 1; k <= steps; ++k) { // before the main one, and after it
            const double lag = k < 0 ? -begin + settings.lag_step_ms * (k + 1) : begin + settings.lag_step_ms * k;
            Phasor phasor = s.phasor(lag);
            double later = 0.0;
            double overlap = 0.0;
            for (std::size_t f = 0; f < sound.size(); ++f) {
                const Complex z = phasor.next();
                later += times(with_tap[f], z).real();
                overlap += with_itself[f].real() * z.real();
            }
            const double rest = later - overlap / energy * first;
            const double new_energy = energy - overlap * overlap / energy;
            const double second_level = new_energy > 1e-3 * energy ? rest / new_energy : 0.0;
            const double first_level = (first - overlap * second_level) / energy;
            const double explained = first * first / energy + rest * second_level;
            if (explained > most && second_level > 0.0 && first_level > 0.0) {
                most = explained;
                best = p;
                best.lag_ms = lag;
                best.ratio = std::clamp(second_level / first_level, 0.01, 10.0);
            }
        }
    }
    if (best.lag_ms * middle_ms < 0.0) { // told the other way round
        best.delay_ms += best.lag_ms;
        best.log_level += std::log(best.ratio);
        best.lag_ms = -best.lag_ms;
        best.ratio = 1.0 / best.ratio;
    }
    return best;
}

std::vector<Playing> all_sought(const TapSpectra& s, const KernelFit& fit, const ShiftSettings& settings) {
    std::vector<double> lags;
    for (const Playing& p : fit.playing) {
        lags.push_back(p.lag_ms);
    }
    const double middle = median(lags);
    std::vector<Playing> playing = fit.playing;
    for (std::size_t i = 0; i < playing.size(); ++i) {
        playing[i] = sought(s, s.taps[i], fit.sound, playing[i], middle, settings);
    }
    return playing;
}

// One arrival for each tap, where the stronger one was.
std::vector<Playing> stronger_arrivals(std::vector<Playing> playing) {
    for (Playing& p : playing) {
        if (p.ratio > 1.0) {
            p.delay_ms += p.lag_ms;
            p.log_level += std::log(p.ratio);
        }
        p.ratio = 0.0;
    }
    return playing;
}

} // namespace

std::optional<ShiftingArrivals> find_shifting_arrivals(std::span<const TapSound> taps, SampleRate rate,
                                                       std::span<const double> guesses_ms,
                                                       const ShiftSettings& settings) {
    if (taps.size() < min_taps) {
        return std::nullopt;
    }
    const std::optional<HeardSpectra> heard = hear_spectra(taps, rate, settings.spectra);
    if (!heard) {
        return std::nullopt;
    }
    const TapSpectra& s = heard->spectra;
    const auto fit = [&](std::vector<Playing> start, Arrivals arrivals, std::size_t steps) {
        return fit_shared_kernel(s, std::move(start), arrivals, settings.search.shortest_ms, settings.longest_ms,
                                 steps);
    };
    KernelFit one = fit(aligned(s, settings), Arrivals::one, settings.first_steps);
    KernelFit best = one;
    for (const std::vector<Playing>& start :
         starts(s, one, one.residual / std::max(heard->noise, 1e-300), guesses_ms, settings)) {
        KernelFit two = fit(start, Arrivals::two, settings.first_steps);
        if (two.residual < best.residual) {
            best = std::move(two);
        }
    }
    if (best.residual < settings.worth_going_on * one.residual) {
        best = fit(std::move(best.playing), Arrivals::two, settings.max_steps);
        for (std::size_t round = 0; round < settings.rounds; ++round) {
            KernelFit other = fit(all_sought(s, best, settings), Arrivals::two, settings.max_steps);
            if (other.residual > 0.99 * best.residual) {
                break;
            }
            best = std::move(other);
        }
    }
    if (best.residual < one.residual) {
        // where the second arrival was only a way round a wrong alignment, the first one does without it now
        KernelFit again = fit(stronger_arrivals(best.playing), Arrivals::one, settings.first_steps);
        if (again.residual < one.residual) {
            one = std::move(again);
        }
    }
    ShiftingArrivals found{.playing = std::move(best.playing),
                           .left = one.residual > 0.0 ? best.residual / one.residual : 1.0,
                           .over_noise = heard->noise > 0.0 ? one.residual / heard->noise : 0.0,
                           .chance = heard->chance};
    for (Playing& p : found.playing) {
        p.ratio *= std::exp(p.lag_ms / settings.spectra.decay_ms);
        if (p.lag_ms < 0.0 && p.ratio > 0.0) { // the copy is the first arrival
            p = {.delay_ms = p.delay_ms + p.lag_ms,
                 .log_level = p.log_level + std::log(p.ratio),
                 .lag_ms = -p.lag_ms,
                 .ratio = 1.0 / p.ratio};
        }
    }
    return found;
}

} // namespace retap::dsp
