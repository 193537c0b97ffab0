#include "dsp/landing/first_sound.hpp"

#include "dsp/base/statistics.hpp"
#include "dsp/base/whole_samples.hpp"
#include "dsp/filters/butterworth.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>
#include <vector>

namespace retap::dsp {
namespace {

using Curve = std::vector<double>;

/// Where things lie in a curve: quiet, then what may be sound already, then the body of the tap.
struct Layout {
    std::size_t quiet;
    std::size_t main;
    std::size_t length;
    std::size_t lasting;
    std::size_t blur;
};

Layout lay_out(SampleRate rate, const FirstSoundSettings& settings) {
    const std::size_t quiet = whole_samples(settings.quiet_ms, rate);
    const std::size_t main = quiet + whole_samples(settings.sought_ms, rate);
    return {.quiet = quiet,
            .main = main,
            .length = main + whole_samples(settings.after_ms, rate),
            .lasting = std::max<std::size_t>(1, whole_samples(settings.lasting_ms, rate)),
            .blur = std::max<std::size_t>(1, whole_samples(settings.blur_ms, rate))};
}

/// Energy around the main impact, relative to its peak; empty where the tap does not reach so far.
Curve energy(const TapSound& tap, double main_impact, SampleRate rate, const Layout& layout,
             const FirstSoundSettings& settings) {
    const double whole = std::floor(main_impact);
    const double part = main_impact - whole;
    const std::ptrdiff_t begin = static_cast<std::ptrdiff_t>(whole) - static_cast<std::ptrdiff_t>(layout.main);
    const auto settling = static_cast<std::ptrdiff_t>(std::lround(rate.hz() / settings.from_hz));
    const auto size = static_cast<std::ptrdiff_t>(tap.samples.size());
    const auto length = static_cast<std::ptrdiff_t>(layout.length + layout.blur + 1);
    if (begin < settling || begin + length > size) {
        return {};
    }
    Curve sound(tap.samples.begin(), tap.samples.begin() + begin + length); // what follows cannot change it
    Butterworth::high_pass(Frequency(settings.from_hz), rate).apply(sound);
    Butterworth::low_pass(Frequency(settings.to_hz), rate).apply(sound);
    Curve out(layout.length);
    double peak = 0.0;
    const auto blurred = [&](std::size_t i) {
        double sum = 0.0;
        for (std::size_t k = 0; k < layout.blur; ++k) {
            const double v = sound[static_cast<std::size_t>(begin) + i + k];
            sum += v * v;
        }
        return sum;
    };
    double here = blurred(0);
    for (std::size_t i = 0; i < out.size(); ++i) { // the main impact lies between samples
        const double next = blurred(i + 1);
        out[i] = (1.0 - part) * here + part * next;
        here = next;
        peak = i >= layout.quiet ? std::max(peak, out[i]) : peak;
    }
    if (peak <= 0.0) {
        return {};
    }
    for (double& e : out) {
        e /= peak;
    }
    return out;
}

/// The taps of one side as logarithms of energies, and their sum.
struct Side {
    std::vector<Curve> taps;
    Curve sum;

    /// Geometric mean of all taps but `left_out`, which may be none of them.
    [[nodiscard]] Curve pooled(std::size_t left_out) const {
        const bool all = left_out >= taps.size();
        const auto n = static_cast<double>(taps.size() - (all ? 0U : 1U));
        Curve out(sum.size());
        for (std::size_t i = 0; i < out.size(); ++i) {
            out[i] = std::exp((sum[i] - (all ? 0.0 : taps[left_out][i])) / n);
        }
        return out;
    }
};

double noise_of(const Curve& tap, const Layout& layout) {
    double sum = 0.0;
    for (std::size_t i = 0; i < layout.quiet; ++i) {
        sum += tap[i];
    }
    return sum / static_cast<double>(layout.quiet);
}

/// A pooled tap above its noise, relative to its peak.
Curve above_noise(Curve pooled, const Layout& layout) {
    const double noise = median(std::span(pooled).first(layout.quiet));
    double peak = 0.0;
    for (std::size_t i = 0; i < pooled.size(); ++i) {
        pooled[i] -= noise;
        peak = i >= layout.quiet ? std::max(peak, pooled[i]) : peak;
    }
    for (double& v : pooled) {
        v = peak > 0.0 ? v / peak : 0.0;
    }
    return pooled;
}

double noise_scatter(const Curve& rise, const Layout& layout) {
    double squares = 0.0;
    for (std::size_t i = 0; i < layout.quiet; ++i) {
        squares += rise[i] * rise[i];
    }
    return std::sqrt(squares / static_cast<double>(layout.quiet));
}

/// Where the curve begins to lie above `level` for long enough, between samples.
double beginning(const Curve& rise, double level, const Layout& layout) {
    std::size_t lasted = 0;
    for (std::size_t i = layout.quiet; i < rise.size(); ++i) {
        lasted = rise[i] > level ? lasted + 1 : 0;
        if (lasted < layout.lasting) {
            continue;
        }
        const std::size_t first = i + 1 - lasted;
        const double low = rise[first - 1];
        const double part = low < level ? (level - low) / (rise[first] - low) : 1.0;
        return static_cast<double>(first - 1) + part;
    }
    return static_cast<double>(layout.main);
}

using Times = std::array<double, first_sound_levels_db.size()>;

Times beginnings(const Curve& rise, double floor, const Layout& layout) {
    Times out{};
    for (std::size_t l = 0; l < out.size(); ++l) {
        out[l] = beginning(rise, std::max(floor, std::pow(10.0, first_sound_levels_db.at(l) / 10.0)), layout);
    }
    return out;
}

std::size_t loudest(const std::array<Side, 2>& sides, const Layout& layout) {
    std::size_t best = layout.quiet;
    double highest = -1e300;
    for (std::size_t i = layout.quiet; i < layout.length; ++i) {
        double sum = 0.0;
        for (const Side& side : sides) {
            sum += side.sum[i] / static_cast<double>(side.taps.size());
        }
        if (sum > highest) {
            highest = sum;
            best = i;
        }
    }
    return best;
}

FirstSound first_sound_of(const Side& side, double floor, double main, SampleRate rate, const Layout& layout) {
    const std::size_t n = side.taps.size();
    const double ms_a_sample = Length(1.0).ms(rate);
    const Times whole = beginnings(above_noise(side.pooled(n), layout), floor, layout);
    std::vector<Times> without;
    for (std::size_t k = 0; k < n; ++k) {
        without.push_back(beginnings(above_noise(side.pooled(k), layout), floor, layout));
    }
    FirstSound sound;
    for (std::size_t l = 0; l < whole.size(); ++l) {
        double mean = 0.0;
        for (const Times& t : without) {
            mean += t.at(l) / static_cast<double>(n);
        }
        double squares = 0.0;
        for (const Times& t : without) {
            squares += (t.at(l) - mean) * (t.at(l) - mean);
        }
        sound.ms.at(l) = (main - whole.at(l)) * ms_a_sample;
        sound.standard_error_ms.at(l) =
            ms_a_sample * std::sqrt(squares * static_cast<double>(n - 1) / static_cast<double>(n));
    }
    return sound;
}

} // namespace

std::optional<FirstSounds> first_sounds(std::span<const TapSound> taps, std::span<const double> main_impact,
                                        std::span<const std::size_t> side, SampleRate rate,
                                        const FirstSoundSettings& settings) {
    assert(taps.size() == main_impact.size() && taps.size() == side.size());
    const Layout layout = lay_out(rate, settings);
    std::array<Side, 2> sides;
    std::array<std::vector<double>, 2> noises;
    for (std::size_t k = 0; k < taps.size(); ++k) {
        Curve curve = energy(taps[k], main_impact[k], rate, layout, settings);
        if (!curve.empty()) {
            noises.at(side[k]).push_back(noise_of(curve, layout));
            sides.at(side[k]).taps.push_back(std::move(curve));
        }
    }
    if (sides[0].taps.size() < 2 || sides[1].taps.size() < 2) {
        return std::nullopt;
    }
    const double noise = std::max({median(noises[0]), median(noises[1]), std::pow(10.0, -settings.quietest_db / 10.0)});
    for (Side& s : sides) {
        s.sum.assign(layout.length, 0.0);
        for (Curve& tap : s.taps) {
            for (std::size_t i = 0; i < tap.size(); ++i) {
                tap[i] = std::log(tap[i] + settings.noise_part * noise);
                s.sum[i] += tap[i];
            }
        }
    }
    double floor = 0.0;
    for (const Side& s : sides) {
        const Curve rise = above_noise(s.pooled(s.taps.size()), layout);
        floor = std::max(floor, settings.sigmas * noise_scatter(rise, layout));
    }
    const auto main = static_cast<double>(loudest(sides, layout));
    return FirstSounds{.side = {first_sound_of(sides[0], floor, main, rate, layout),
                                first_sound_of(sides[1], floor, main, rate, layout)},
                       .deepest_db = 10.0 * std::log10(floor)};
}

} // namespace retap::dsp
