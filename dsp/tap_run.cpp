#include "dsp/tap_run.hpp"

#include "dsp/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

namespace {

double strongest(const EventShape& s) {
    return *std::max_element(s.spectrum.begin(), s.spectrum.begin() + static_cast<std::ptrdiff_t>(s.octaves));
}

double level_apart(const EventShape& a, const EventShape& b) {
    return std::abs(a.loudness.db() - b.loudness.db());
}

void turn_down(FoundEvent& event, const char* reason) {
    event.is_tap = false;
    event.reason = reason;
}

std::vector<FoundEvent*> taps_of(std::vector<FoundEvent>& events) {
    std::vector<FoundEvent*> taps;
    for (FoundEvent& event : events) {
        if (event.is_tap) {
            taps.push_back(&event);
        }
    }
    return taps;
}

// The tap with the most others like it; of equals the one nearest to them.
const FoundEvent* heart_of(const std::vector<FoundEvent*>& taps, const RunLimits& limits, std::size_t& members) {
    const FoundEvent* heart = nullptr;
    double best_sum = 0.0;
    members = 0;
    for (const FoundEvent* a : taps) {
        std::size_t count = 0;
        double sum = 0.0;
        for (const FoundEvent* b : taps) {
            const double distance = spectral_distance(a->shape, b->shape);
            if (distance <= limits.like_db && level_apart(a->shape, b->shape) <= limits.most_level_apart.db()) {
                ++count;
                sum += distance;
            }
        }
        if (count > members || (count == members && sum < best_sum)) {
            heart = a;
            members = count;
            best_sum = sum;
        }
    }
    return heart;
}

void turn_down_unlike(const std::vector<FoundEvent*>& taps, const FoundEvent& heart, const RunLimits& limits) {
    std::vector<double> distances;
    std::vector<double> levels;
    for (const FoundEvent* tap : taps) {
        const double distance = spectral_distance(tap->shape, heart.shape);
        if (distance <= limits.like_db) {
            distances.push_back(distance);
            levels.push_back(tap->shape.loudness.db());
        }
    }
    const double limit =
        std::clamp(limits.scatter_factor * median(distances), 0.6 * limits.like_db, 1.5 * limits.like_db);
    const double level = median(levels);
    for (FoundEvent* tap : taps) {
        if (spectral_distance(tap->shape, heart.shape) > limit) {
            turn_down(*tap, "it sounds unlike the taps of the run");
        } else if (std::abs(tap->shape.loudness.db() - level) > limits.most_level_apart.db()) {
            turn_down(*tap, "much louder or softer than the taps of the run");
        }
    }
}

void turn_down_stragglers(const std::vector<FoundEvent*>& taps, SampleRate rate, const RunLimits& limits) {
    if (taps.size() < limits.least_taps) {
        return;
    }
    std::vector<double> intervals;
    for (std::size_t i = 1; i < taps.size(); ++i) {
        intervals.push_back((taps[i]->onset - taps[i - 1]->onset).seconds(rate));
    }
    const double pause = std::max(limits.longest_pause_s, limits.pause_factor * median(intervals));
    std::size_t begin = 0;
    for (std::size_t i = 1; i <= taps.size(); ++i) {
        if (i < taps.size() && intervals[i - 1] <= pause) {
            continue;
        }
        if (i - begin < limits.least_taps && i - begin < taps.size()) {
            for (std::size_t k = begin; k < i; ++k) {
                turn_down(*taps[k], "it stands apart from the run of taps");
            }
        }
        begin = i;
    }
}

} // namespace

double spectral_distance(const EventShape& a, const EventShape& b) {
    const std::size_t octaves = std::min(a.octaves, b.octaves);
    if (octaves == 0) {
        return 0.0;
    }
    const double top_a = strongest(a);
    const double top_b = strongest(b);
    double weights = 0.0;
    double sum = 0.0;
    double squares = 0.0;
    for (std::size_t k = 0; k < octaves; ++k) {
        const double floor_a = std::max({2.0 * a.uncertainty[k], 0.003 * top_a, 1e-30});
        const double floor_b = std::max({2.0 * b.uncertainty[k], 0.003 * top_b, 1e-30});
        const double difference =
            10.0 * std::log10(std::max(a.spectrum[k], floor_a) / std::max(b.spectrum[k], floor_b));
        const bool heard = a.spectrum[k] > floor_a || b.spectrum[k] > floor_b;
        const double weight = heard ? 1.0 : 0.0;
        weights += weight;
        sum += weight * difference;
        squares += weight * difference * difference;
    }
    if (weights <= 0.0) {
        return 0.0;
    }
    const double mean = sum / weights;
    return std::sqrt(std::max(0.0, squares / weights - mean * mean));
}

void qualify_run(std::vector<FoundEvent>& events, SampleRate rate, const RunLimits& limits) {
    std::vector<FoundEvent*> taps = taps_of(events);
    std::size_t members = 0;
    const FoundEvent* heart = heart_of(taps, limits, members);
    if (heart == nullptr || members < limits.least_taps) {
        return;
    }
    turn_down_unlike(taps, *heart, limits);
    turn_down_stragglers(taps_of(events), rate, limits);
}

} // namespace retap::dsp
