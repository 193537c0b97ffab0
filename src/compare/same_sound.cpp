#include "compare/same_sound.hpp"

#include "dsp/filters/butterworth.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace retap::compare {
namespace {

constexpr std::size_t taps_looked_at = 8;
constexpr double clear_ms = 1.0; // before the onset
constexpr double after_ms = 20.0;
constexpr std::ptrdiff_t shifts = 4;    // samples either way: onsets of copies at another rate
constexpr double same_quiet = 0.9;      // correlation; independent noise reaches half of it
constexpr double same_tap = 0.9;        //
constexpr double same_silence = 0.9999; // of taps in digital silence, where no noise tells recordings apart

/// The quiet before a tap, and the tap, of which hum and what a resampler may have moved are taken out.
struct Heard {
    std::vector<double> quiet;
    std::vector<double> tap;
};

std::vector<Heard> hear(const dsp::TakeAnalysis& take) {
    const dsp::SampleRate rate(dsp::analysis_rate_hz);
    std::vector<Heard> all;
    for (const dsp::Tap& tap : take.taps) {
        const double onset = std::round(tap.excerpt.onset_index - clear_ms * 1e-3 * rate.hz());
        const double end = onset + (clear_ms + after_ms) * 1e-3 * rate.hz();
        if (all.size() == taps_looked_at) {
            break;
        }
        if (!tap.usable || onset < 1.0 || end > static_cast<double>(tap.excerpt.samples.size())) {
            continue;
        }
        std::vector<double> sound(tap.excerpt.samples.begin(), tap.excerpt.samples.end());
        dsp::Butterworth::high_pass(dsp::Frequency(300.0), rate).apply(sound);
        dsp::Butterworth::low_pass(dsp::Frequency(3000.0), rate).apply(sound);
        const auto at = sound.begin() + static_cast<std::ptrdiff_t>(onset);
        all.push_back({.quiet = {sound.begin(), at}, .tap = {at, sound.begin() + static_cast<std::ptrdiff_t>(end)}});
    }
    return all;
}

double energy(const std::vector<double>& x) {
    double sum = 0.0;
    for (const double v : x) {
        sum += v * v;
    }
    return sum;
}

/// The highest correlation of either sign over small shifts; both ends line up with the onset. 0 of silence.
double correlation(const std::vector<double>& a, const std::vector<double>& b, bool by_their_ends) {
    const auto n = static_cast<std::ptrdiff_t>(std::min(a.size(), b.size()));
    const auto from_a = by_their_ends ? static_cast<std::ptrdiff_t>(a.size()) - n : 0;
    const auto from_b = by_their_ends ? static_cast<std::ptrdiff_t>(b.size()) - n : 0;
    double best = 0.0;
    for (std::ptrdiff_t shift = -shifts; shift <= shifts; ++shift) {
        double ab = 0.0;
        double aa = 0.0;
        double bb = 0.0;
        for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(0, -shift); i < std::min(n, n - shift); ++i) {
            const double x = a[static_cast<std::size_t>(from_a + i)];
            const double y = b[static_cast<std::size_t>(from_b + i + shift)];
            ab += x * y;
            aa += x * x;
            bb += y * y;
        }
        best = std::max(best, aa > 0.0 && bb > 0.0 ? std::abs(ab) / std::sqrt(aa * bb) : 0.0);
    }
    return best;
}

bool same(const Heard& a, const Heard& b) {
    constexpr double silent = 1e-9; // of the tap's energy: 90 dB below
    const double sounds = correlation(a.tap, b.tap, false);
    const bool silence = energy(a.quiet) < silent * energy(a.tap) && energy(b.quiet) < silent * energy(b.tap);
    return silence ? sounds > same_silence : sounds > same_tap && correlation(a.quiet, b.quiet, true) > same_quiet;
}

/// Most taps of the one are found in the other.
bool same(const std::vector<Heard>& a, const std::vector<Heard>& b) {
    const auto found = std::ranges::count_if(a, [&](const Heard& tap) {
        return std::ranges::any_of(b, [&](const Heard& other) { return same(tap, other); });
    });
    return !a.empty() && 4 * static_cast<std::size_t>(found) >= 3 * a.size();
}

} // namespace

bool same_sound(std::span<const dsp::TakeAnalysis> before, std::span<const dsp::TakeAnalysis> after) {
    return std::ranges::any_of(before, [&](const dsp::TakeAnalysis& then) {
        const std::vector<Heard> one = hear(then);
        return std::ranges::any_of(after, [&](const dsp::TakeAnalysis& now) { return same(one, hear(now)); });
    });
}

} // namespace retap::compare
