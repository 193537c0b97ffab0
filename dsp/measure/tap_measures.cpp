#include "dsp/measure/tap_measures.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace retap::dsp {
namespace {

/// The mean of the quiet before the onset is taken off.
SharedSamples without_offset(const SharedSamples& recorded, double onset_index) {
    // a millisecond is left for a light first contact that was missed
    const auto offset = static_cast<float>(mean(quiet_before(recorded.all(), Position(onset_index), Length(48.0))));
    std::vector<float> sound(recorded.size());
    std::ranges::transform(recorded, sound.begin(), [offset](float v) { return v - offset; });
    return sound;
}

Excerpt without_offset(const Excerpt& recorded) {
    const double onset = recorded.onset_index;
    return {.samples = without_offset(recorded.samples, onset),
            .sides = {without_offset(recorded.sides[0], onset), without_offset(recorded.sides[1], onset)},
            .onset_index = onset};
}

/// The largest sample of the tap, noise or not.
Level peak_of(const Excerpt& excerpt, const ImpactSettings& stretch, SampleRate rate) {
    const Position onset(excerpt.onset_index);
    const double from = (onset - Length::from_ms(stretch.lead_ms, rate)).samples();
    const double to = (onset + Length::from_ms(stretch.longest_ms, rate)).samples();
    const auto size = static_cast<double>(excerpt.samples.size());
    const auto begin = excerpt.samples.begin();
    float peak = 0.0F;
    std::for_each(begin + static_cast<std::ptrdiff_t>(std::clamp(from, 0.0, size)),
                  begin + static_cast<std::ptrdiff_t>(std::clamp(to, 0.0, size)),
                  [&peak](float sample) { peak = std::max(peak, std::abs(sample)); });
    return Level::from_amplitude(static_cast<double>(peak));
}

} // namespace

void measure_tap(Tap& tap, Level noise, std::optional<double> next_onset_index, TapMeters& meters, SampleRate rate) {
    const Excerpt sound = std::exchange(tap.excerpt, without_offset(tap.excerpt));
    std::optional<Position> next;
    if (next_onset_index && *next_onset_index < static_cast<double>(sound.samples.size())) {
        next = Position(*next_onset_index);
    }
    const Position onset(sound.onset_index);
    const std::optional<ImpactMeasures> impact = meters.impact.measure(sound.samples, onset, noise, next);
    if (!impact) {
        tap.usable = false;
        tap.measured = false;
        tap.peak_dbfs = peak_of(tap.excerpt, meters.impact.settings(), rate).db();
        tap.reasons.push_back(next && meters.impact.followed_too_soon(onset, *next) ? Unusable::followed_too_soon
                                                                                    : Unusable::too_soft);
        return;
    }
    const auto profile = meters.arrivals.measure(sound.samples, onset);
    tap.arrival_ms.assign(profile.begin(), profile.end());
    tap.rise_ms = impact->rise_ms;
    tap.duration_ms = impact->duration_ms;
    tap.decay_ms = impact->decay_ms;
    tap.peak_dbfs = impact->peak_dbfs;
    tap.energy_db = impact->energy_db;
    tap.centroid_hz = impact->centroid_hz;
    tap.bands_db = impact->bands_db;
    if (!sound.sides[0].empty()) {
        if (const std::optional<Lead> lead = left_lead(sound.sides[0], sound.sides[1], onset, rate, meters.lead)) {
            tap.left_lead_ms = lead->left_lead_ms;
        }
        tap.left_excess_db = left_excess_db(sound.sides[0], sound.sides[1], onset, rate, meters.balance);
    }
}

} // namespace retap::dsp
