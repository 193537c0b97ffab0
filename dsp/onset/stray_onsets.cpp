#include "dsp/onset/stray_onsets.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/filters/butterworth.hpp"

#include <algorithm>
#include <cmath>

namespace retap::dsp {
namespace {

/// How a tap sounds from its onset on.
struct Rise {
    double climb = 0.0;   ///< samples from the onset to where a share of the energy after it is there
    double jump_db = 0.0; ///< power shortly after the onset re that shortly before it
};

double power(std::span<const double> sound) {
    double sum = 0.0;
    for (const double v : sound) {
        sum += v * v;
    }
    return sum / static_cast<double>(std::max<std::size_t>(1, sound.size()));
}

Rise rise_of(const TapSound& tap, SampleRate rate, const StrayOnsetSettings& settings) {
    const auto size = static_cast<double>(tap.samples.size());
    const auto place = [size](Position p) { return static_cast<std::size_t>(std::clamp(p.samples(), 0.0, size)); };
    const std::size_t first = place(tap.onset);
    const std::size_t last = place(tap.onset + Length::from_ms(settings.longest_ms, rate));
    const double offset = mean(quiet_before(tap.samples, tap.onset, Length(0.0)));
    std::vector<double> sound(last); // from its beginning, so that the filter has settled
    std::ranges::transform(tap.samples.first(last), sound.begin(),
                           [offset](float v) { return static_cast<double>(v) - offset; });
    Butterworth::high_pass(Frequency(settings.from_hz), rate).apply(sound);
    std::vector<double> so_far; // energy
    double sum = 0.0;
    for (std::size_t n = first; n < last; ++n) {
        sum += sound[n] * sound[n];
        so_far.push_back(sum);
    }
    const auto there = std::ranges::lower_bound(so_far, settings.share * sum);
    const auto shortly = static_cast<std::size_t>(Length::from_ms(settings.shortly_ms, rate).samples());
    const std::size_t near = std::min(shortly, first);
    const double before = power(std::span(sound).subspan(first - near, near));
    const double after = power(std::span(sound).subspan(first, std::min(shortly, last - first)));
    return {.climb = static_cast<double>(there - so_far.begin()),
            .jump_db = before > 0.0 ? 10.0 * std::log10(std::max(after, 1e-30) / before) : 300.0};
}

} // namespace

std::vector<std::optional<Position>> stray_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                  const StrayOnsetSettings& settings) {
    std::vector<std::optional<Position>> moved(taps.size());
    if (taps.size() < settings.fewest_taps) {
        return moved;
    }
    std::vector<Rise> rises;
    std::vector<double> climbs;
    for (const TapSound& tap : taps) {
        rises.push_back(rise_of(tap, rate, settings));
        climbs.push_back(rises.back().climb);
    }
    const double usual = median(climbs);
    const double furthest = Length::from_ms(settings.furthest_ms, rate).samples();
    for (std::size_t i = 0; i < taps.size(); ++i) {
        if (rises[i].climb > usual + furthest && rises[i].jump_db < settings.min_jump_db) {
            moved[i] = taps[i].onset + Length(rises[i].climb - usual);
        }
    }
    return moved;
}

} // namespace retap::dsp
