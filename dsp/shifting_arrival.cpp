#include "dsp/shifting_arrival.hpp"

#include "dsp/all_pole.hpp"
#include "dsp/fft.hpp"
#include "dsp/robust.hpp"
#include "dsp/window.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>
#include <utility>

namespace retap::dsp {

namespace {

using Complex = std::complex<double>;
using Column = std::vector<Complex>;

constexpr std::size_t least_taps = 4;
constexpr double least_quiet = 96.0;         // samples
constexpr double least_difference = 1e-5;    // in power: taps are never taken for more alike than that
constexpr std::size_t transform_size = 1024; // 21 ms: five time constants of the weighting

Complex times(Complex a, Complex b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

double dot(const Column& a, const Column& b) {
    double sum = 0.0;
    for (std::size_t f = 0; f < a.size(); ++f) {
        sum += a[f].real() * b[f].real() + a[f].imag() * b[f].imag();
    }
    return sum;
}

// What is looked at of the taps, and how much of it the noise alone would leave.
struct Heard {
    TapSpectra spectra{};
    double noise = 0.0;  // sum over taps and frequencies
    double chance = 0.0; // share of it that one lag and ratio for each tap take up
};

// exp(-t / decay) from the beginning: with a kink, taps whose onsets are off by a little would differ in more than
// delay.
std::vector<float> weighting(SampleRate rate, const ShiftSettings& settings) {
    const double lead = std::floor(Length::from_ms(settings.lead_ms, rate).samples());
    const double decay = Length::from_ms(settings.decay_ms, rate).samples();
    std::vector<float> weights(transform_size);
    for (std::size_t n = 0; n < weights.size(); ++n) {
        weights[n] = static_cast<float>(std::exp(-(static_cast<double>(n) - lead) / decay));
    }
    fade_out(std::span(weights).last(static_cast<std::size_t>(Length::from_ms(settings.fade_out_ms, rate).samples())));
    fade_in(std::span(weights).first(static_cast<std::size_t>(lead / 2.0)));
    return weights;
}

double energy_of(std::span<const float> x) {
    return autocorrelation(x, 0)[0];
}

std::vector<double> powers(RealFft& fft, std::span<const float> sound) {
    std::vector<double> out;
    for (const auto& v : fft.forward(sound)) {
        out.push_back(static_cast<double>(std::norm(v)));
    }
    return out;
}

// Adds to `power` what the quiet before the tap would leave in a spectrum of the weighted sound.
void add_noise(std::vector<double>& power, RealFft& fft, std::span<const float> quiet, double scale) {
    quiet = quiet.last(std::min(quiet.size(), transform_size));
    const std::vector<float> window = make_window(WindowKind::hann, quiet.size());
    std::vector<float> part(quiet.size());
    std::ranges::transform(quiet, window, part.begin(), std::multiplies<>());
    const std::vector<double> here = powers(fft, part);
    for (std::size_t k = 0; k < power.size(); ++k) {
        power[k] += here[k] * scale / energy_of(window);
    }
}

// Mean over some neighbours: the weights follow the spectrum's slope, not its lines.
std::vector<double> smoothed(const std::vector<double>& x) {
    constexpr std::size_t reach = 4;
    std::vector<double> out(x.size());
    for (std::size_t k = 0; k < x.size(); ++k) {
        const std::size_t begin = k - std::min(k, reach);
        const std::size_t end = std::min(k + reach + 1, x.size());
        for (std::size_t j = begin; j < end; ++j) {
            out[k] += x[j] / static_cast<double>(end - begin);
        }
    }
    return out;
}

std::optional<Heard> hear(std::span<const TapSound> taps, SampleRate rate, const ShiftSettings& settings) {
    RealFft fft(transform_size);
    const std::vector<float> weights = weighting(rate, settings);
    const double lead = std::floor(Length::from_ms(settings.lead_ms, rate).samples());
    const double guard = Length::from_ms(settings.guard_ms, rate).samples();
    std::vector<std::vector<std::complex<float>>> all;
    std::vector<double> noise(fft.bins(), 0.0);
    std::vector<double> mean(fft.bins(), 0.0);
    for (const TapSound& tap : taps) {
        const double begin = std::floor(tap.onset.samples()) - lead;
        if (begin - guard < least_quiet || begin + transform_size > static_cast<double>(tap.samples.size())) {
            return std::nullopt;
        }
        std::vector<float> sound(transform_size);
        std::ranges::transform(tap.samples.subspan(static_cast<std::size_t>(begin), transform_size), weights,
                               sound.begin(), std::multiplies<>());
        const double energy = energy_of(sound);
        if (energy <= 0.0) {
            return std::nullopt;
        }
        std::ranges::transform(sound, sound.begin(), [k = 1.0 / std::sqrt(energy)](float v) {
            return static_cast<float>(k * static_cast<double>(v));
        });
        all.push_back(fft.forward(sound));
        for (std::size_t k = 0; k < mean.size(); ++k) {
            mean[k] += static_cast<double>(std::norm(all.back()[k]));
        }
        add_noise(noise, fft, tap.samples.first(static_cast<std::size_t>(begin - guard)), energy_of(weights) / energy);
    }
    mean = smoothed(mean);
    noise = smoothed(noise);
    const double floor = least_difference * *std::ranges::max_element(mean);
    const double hz = rate.hz() / static_cast<double>(transform_size);
    const auto low = static_cast<std::size_t>(std::ceil(settings.lowest.hz() / hz));
    const auto high = std::min(static_cast<std::size_t>(settings.highest.hz() / hz), mean.size() - 1);
    Heard heard;
    double squares = 0.0;
    heard.spectra.step_radians = 2e-3 * std::numbers::pi * hz;
    heard.spectra.first_radians = heard.spectra.step_radians * static_cast<double>(low);
    heard.spectra.taps.assign(taps.size(), Column(high - low + 1));
    for (std::size_t k = low; k <= high; ++k) {
        const double power = (mean[k] + settings.noise_part * noise[k] + floor) / static_cast<double>(taps.size());
        for (std::size_t i = 0; i < taps.size(); ++i) {
            heard.spectra.taps[i][k - low] = Complex(all[i][k]) / std::sqrt(power);
        }
        // the shared sound takes one tap's worth of it
        const auto others = static_cast<double>(taps.size() - 1) / static_cast<double>(taps.size());
        const double left = (noise[k] + least_difference * mean[k]) * others / power;
        heard.noise += left;
        squares += left * left;
    }
    heard.chance = heard.noise > 0.0 ? squares / (heard.noise * heard.noise) : 1.0;
    return heard;
}

// exp(-j w t) of one frequency after the other
class Turn {
public:
    Turn(const TapSpectra& s, double t_ms)
        : value_(std::polar(1.0, -s.first_radians * t_ms)), step_(std::polar(1.0, -s.step_radians * t_ms)) {}
    Complex next() {
        const Complex now = value_;
        value_ = times(value_, step_);
        return now;
    }

private:
    Complex value_;
    Complex step_;
};

// Delay at which `tap` agrees best with `reference`.
double best_delay(const TapSpectra& s, const Column& tap, const Column& reference, double around_ms, double reach_ms,
                  double step_ms) {
    Column product(tap.size());
    for (std::size_t f = 0; f < tap.size(); ++f) {
        product[f] = times(std::conj(tap[f]), reference[f]);
    }
    double best = around_ms;
    double most = -1e300;
    for (double t = around_ms - reach_ms; t <= around_ms + reach_ms; t += step_ms) {
        Turn turn(s, t);
        double sum = 0.0;
        for (const Complex& p : product) {
            sum += times(p, turn.next()).real();
        }
        if (sum > most) {
            most = sum;
            best = t;
        }
    }
    return best;
}

Column undone(const TapSpectra& s, const Column& tap, const Playing& p) {
    Column out(tap.size());
    Turn turn(s, -p.delay_ms);
    const double level = std::exp(-p.log_level);
    for (std::size_t f = 0; f < tap.size(); ++f) {
        out[f] = level * times(tap[f], turn.next());
    }
    return out;
}

std::vector<Playing> aligned(const TapSpectra& s, const ShiftSettings& settings) {
    std::vector<Playing> playing(s.taps.size());
    Column reference = s.taps.front();
    for (int round = 0; round < 2; ++round) {
        for (std::size_t i = 0; i < playing.size(); ++i) {
            double& t = playing[i].delay_ms;
            t = best_delay(s, s.taps[i], reference, 0.0, settings.align_ms, 0.02);
            t = best_delay(s, s.taps[i], reference, t, 0.02, 0.004);
        }
        std::ranges::fill(reference, Complex(0.0));
        for (std::size_t i = 0; i < playing.size(); ++i) {
            const Column one = undone(s, s.taps[i], playing[i]);
            std::ranges::transform(reference, one, reference.begin(), std::plus<>());
        }
    }
    return playing;
}

// A start for the fit: a gap and a ratio, and what they promise.
struct Promise {
    double gap_ms = 0.0;
    double ratio = 0.0;
    double explained = 0.0; // share of the differences between taps
};

// What is left of `column` beside the directions in `base`, brought to length 1; empty when nothing is.
Column beside(Column column, const std::vector<Column>& base) {
    const double before = dot(column, column);
    for (const Column& b : base) {
        const double share = dot(column, b);
        for (std::size_t f = 0; f < column.size(); ++f) {
            column[f] -= share * b[f];
        }
    }
    const double after = dot(column, column);
    if (after <= 1e-9 * before) {
        return {};
    }
    std::ranges::transform(column, column.begin(), [k = 1.0 / std::sqrt(after)](Complex v) { return k * v; });
    return column;
}

Column sloped(const TapSpectra& s, const Column& column) {
    Column out(column.size());
    for (std::size_t f = 0; f < column.size(); ++f) {
        const double w = s.first_radians + s.step_radians * static_cast<double>(f);
        out[f] = {-w * column[f].imag(), w * column[f].real()};
    }
    return out;
}

// For each gap what a small shift of the second arrival, and a small change of its strength, would explain of the
// differences between the taps. Their mean m is k (1 + a z), so the second arrival in it is m a z / (1 + a z).
std::vector<Promise> score_test(const TapSpectra& s, const KernelFit& one, const ShiftSettings& settings) {
    Column mean(s.taps.front().size(), Complex(0.0));
    std::vector<Column> differences;
    for (std::size_t i = 0; i < s.taps.size(); ++i) {
        differences.push_back(undone(s, s.taps[i], one.playing[i]));
        std::ranges::transform(mean, differences.back(), mean.begin(),
                               [n = static_cast<double>(s.taps.size())](Complex a, Complex b) { return a + b / n; });
    }
    std::vector<Column> base;
    for (Column column : {mean, sloped(s, mean)}) {
        column = beside(std::move(column), base);
        if (column.empty()) {
            return {};
        }
        base.push_back(std::move(column));
    }
    double all = 0.0;
    for (Column& d : differences) {
        std::ranges::transform(d, mean, d.begin(), std::minus<>());
        for (const Column& b : base) {
            const double share = dot(d, b);
            for (std::size_t f = 0; f < d.size(); ++f) {
                d[f] -= share * b[f];
            }
        }
        all += dot(d, d);
    }
    std::vector<Promise> promises;
    const auto steps =
        static_cast<std::size_t>((settings.longest_blind_ms - settings.shortest_ms) / settings.search_step_ms);
    for (std::size_t k = 0; k < 2 * steps; ++k) { // after the stronger arrival, and before it
        const double size = settings.shortest_ms + settings.search_step_ms * static_cast<double>(k / 2);
        const double gap = k % 2 == 0 ? size : -size;
        Promise best{.gap_ms = gap};
        for (const double ratio : {0.4, 0.8}) {
            Turn turn(s, gap);
            Column later(mean.size());
            for (std::size_t f = 0; f < mean.size(); ++f) {
                const Complex z = turn.next();
                later[f] = times(mean[f], z) / (1.0 + ratio * z);
            }
            std::vector<Column> directions = base;
            for (Column column : {later, sloped(s, later)}) {
                column = beside(std::move(column), directions);
                if (!column.empty()) {
                    directions.push_back(std::move(column));
                }
            }
            double explained = 0.0;
            for (const Column& direction : std::span(directions).subspan(base.size())) {
                for (const Column& d : differences) {
                    const double share = dot(d, direction);
                    explained += share * share;
                }
            }
            explained /= std::max(all, 1e-300);
            if (explained > best.explained) {
                best.explained = explained;
                best.ratio = ratio;
            }
        }
        promises.push_back(best);
    }
    return promises;
}

// The best of them, each some steps from the others.
std::vector<Promise> best_of(std::vector<Promise> promises, const ShiftSettings& settings) {
    std::ranges::stable_sort(promises, [](const Promise& a, const Promise& b) { return a.explained > b.explained; });
    std::vector<Promise> best;
    for (const Promise& p : promises) {
        const bool near = std::ranges::any_of(
            best, [&](const Promise& b) { return std::abs(b.gap_ms - p.gap_ms) < 3.5 * settings.search_step_ms; });
        if (p.explained >= settings.worth_a_look && !near && best.size() < settings.starts) {
            best.push_back(p);
        }
    }
    return best;
}

std::vector<std::vector<Playing>> starts(const TapSpectra& s, const KernelFit& one, std::span<const double> guesses_ms,
                                         const ShiftSettings& settings) {
    std::vector<std::vector<Playing>> all;
    for (const Promise& p : best_of(score_test(s, one, settings), settings)) {
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
                all.back()[i].ratio = 0.5;
            }
        }
    }
    return all;
}

// How one tap plays the shared sound, sought by small steps over a wide range, since the fit finds the nearest minimum
// only: whichever arrival explains most, and the other one before or after it.
Playing sought(const TapSpectra& s, const Column& tap, const Column& sound, const Playing& start, double middle_ms,
               const ShiftSettings& settings) {
    const double energy = dot(sound, sound);
    Column with_itself(sound.size());
    std::ranges::transform(sound, with_itself.begin(), [](Complex v) { return Complex(std::norm(v)); });
    const double begin = std::max(settings.shortest_ms, (1.0 - settings.widest_scatter) * std::abs(middle_ms));
    const double end = std::min(settings.longest_ms, (1.0 + settings.widest_scatter) * std::abs(middle_ms));
    Playing best = start;
    double most = 0.0;
    double main = best_delay(s, tap, sound, start.delay_ms, end, 0.02);
    main = best_delay(s, tap, sound, main, 0.02, 0.004);
    for (const double delay : {start.delay_ms, main}) {
        Playing p = start;
        p.delay_ms = delay;
        const Column once = undone(s, tap, p);
        Column with_tap(sound.size());
        for (std::size_t f = 0; f < sound.size(); ++f) {
            with_tap[f] = times(std::conj(once[f]), sound[f]);
        }
        const double first = dot(once, sound);
        for (double size = -end; size <= end; size += settings.lag_step_ms) {
            if (std::abs(size) < begin) {
                continue;
            }
            Turn turn(s, size);
            double later = 0.0;
            double overlap = 0.0;
            for (std::size_t f = 0; f < sound.size(); ++f) {
                const Complex z = turn.next();
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
                best.lag_ms = size;
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
    if (taps.size() < least_taps) {
        return std::nullopt;
    }
    const std::optional<Heard> heard = hear(taps, rate, settings);
    if (!heard) {
        return std::nullopt;
    }
    const TapSpectra& s = heard->spectra;
    const auto fit = [&](std::vector<Playing> start, Arrivals arrivals, std::size_t steps) {
        return fit_shared_kernel(s, std::move(start), arrivals, settings.shortest_ms, settings.longest_ms, steps);
    };
    KernelFit one = fit(aligned(s, settings), Arrivals::one, settings.first_steps);
    KernelFit best = one;
    for (const std::vector<Playing>& start : starts(s, one, guesses_ms, settings)) {
        KernelFit two = fit(start, Arrivals::two, settings.first_steps);
        if (two.residual < best.residual) {
            best = std::move(two);
        }
    }
    if (best.residual < settings.worth_going_on * one.residual) {
        best = fit(std::move(best.playing), Arrivals::two, settings.most_steps);
        for (std::size_t round = 0; round < settings.rounds; ++round) {
            KernelFit other = fit(all_sought(s, best, settings), Arrivals::two, settings.most_steps);
            if (other.residual > 0.99 * best.residual) {
                break;
            }
            best = std::move(other);
        }
    }
    // where the second arrival was only a way round a wrong alignment, the first one does without it now
    KernelFit again = fit(stronger_arrivals(best.playing), Arrivals::one, settings.first_steps);
    if (again.residual < one.residual) {
        one = std::move(again);
    }
    ShiftingArrivals found{.playing = std::move(best.playing),
                           .left = one.residual > 0.0 ? best.residual / one.residual : 1.0,
                           .over_noise = heard->noise > 0.0 ? one.residual / heard->noise : 0.0,
                           .chance = heard->chance};
    for (Playing& p : found.playing) {
        p.ratio *= std::exp(p.lag_ms / settings.decay_ms);
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
