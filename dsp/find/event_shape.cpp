#include "dsp/find/event_shape.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

namespace retap::dsp {

namespace {

/// Frames from .. to of the whole (all octaves, noise off), clipped to what is kept.
class Envelope {
public:
    Envelope(const FrameHistory& history, std::span<const double> floor, std::int64_t from, std::int64_t to)
        : from_(std::max(from, history.begin())), to_(std::min(to, history.end())) {
        for (std::size_t b = 1; b < floor.size(); ++b) {
            noise_ += floor[b];
        }
        for (std::int64_t f = from_; f < to_; ++f) {
            double sum = 0.0;
            for (std::size_t b = 1; b < history.bands(); ++b) {
                sum += history[f][b];
            }
            power_.push_back(sum);
        }
    }
    [[nodiscard]] std::int64_t begin() const { return from_; }
    [[nodiscard]] std::int64_t end() const { return to_; }
    [[nodiscard]] double noise() const { return noise_; }
    /// Noise included; 0 outside.
    [[nodiscard]] double at(std::int64_t f) const {
        return f >= from_ && f < to_ ? power_[static_cast<std::size_t>(f - from_)] : 0.0;
    }
    /// Mean over from .. to with the noise off, not below 0; 0 when nothing of it was heard.
    [[nodiscard]] double mean(std::int64_t from, std::int64_t to) const {
        from = std::max(from, from_);
        to = std::min(to, to_);
        double sum = 0.0;
        for (std::int64_t f = from; f < to; ++f) {
            sum += at(f);
        }
        return to > from ? std::max(0.0, sum / static_cast<double>(to - from) - noise_) : 0.0;
    }

private:
    std::int64_t from_, to_;
    double noise_ = 0.0;
    std::vector<double> power_;
};

double share_busy(const Envelope& envelope, std::int64_t from, std::int64_t to, std::int64_t step, double limit) {
    int busy = 0;
    int all = 0;
    for (std::int64_t f = std::max(from, envelope.begin()); f + step <= std::min(to, envelope.end()); f += step) {
        busy += envelope.mean(f, f + step) > limit ? 1 : 0;
        ++all;
    }
    return all > 0 ? static_cast<double>(busy) / static_cast<double>(all) : 0.0;
}

// The least mean over `length` frames within from .. to; 0 when too little of it was heard.
double quietest(const Envelope& envelope, std::int64_t from, std::int64_t to, std::int64_t length) {
    from = std::max(from, envelope.begin());
    to = std::min(to, envelope.end());
    double least = from + length <= to ? envelope.mean(from, from + length) : 0.0;
    for (std::int64_t f = from + 1; f + length <= to; ++f) {
        least = std::min(least, envelope.mean(f, f + length));
    }
    return least;
}

} // namespace

EventShape measure_shape(const FrameHistory& history, std::span<const double> floor, const RoughEvent& event,
                         double frames_per_second) {
    const auto frames = [&](double ms) -> std::int64_t { return std::llround(ms * 1e-3 * frames_per_second); };
    const double frame_ms = 1e3 / frames_per_second;
    const Envelope envelope(history, floor, event.first - frames(620), event.main + frames(620));

    EventShape shape;
    shape.prominence = event.prominence;
    shape.pattern = measure_pattern(history, floor, event.main, frames_per_second);
    std::int64_t peak_at = event.main;
    double peak = 0.0;
    for (std::int64_t f = event.main; f < std::min(event.main + frames(14), envelope.end()); ++f) {
        const double power = 0.5 * (envelope.at(f) + envelope.at(f + 1)) - envelope.noise();
        if (power > peak) {
            peak = power;
            peak_at = f;
        }
    }
    if (peak <= 0.0) {
        return shape;
    }
    shape.loudness = Level::from_power(peak);
    shape.over_noise = Level::from_power(peak / std::max(envelope.noise(), 1e-14));

    const double edge = std::max(0.01 * peak, 0.5 * envelope.noise());
    std::int64_t start = peak_at;
    while (start > event.first && start > envelope.begin() && envelope.mean(start - 1, start + 1) > edge) {
        --start;
    }
    shape.rise_ms = static_cast<double>(peak_at - start) * frame_ms;
    const std::int64_t quiet = std::max<std::int64_t>(4, frames(20));
    std::int64_t fall = peak_at;
    while (fall < peak_at + frames(300) && envelope.mean(fall, fall + quiet) > edge) {
        ++fall;
    }
    shape.fall_ms = static_cast<double>(fall - peak_at) * frame_ms;

    double jump = 0.0;
    const auto reach = std::max<std::int64_t>(2, frames(4));
    for (std::int64_t f = event.first; f <= peak_at; ++f) {
        const double then = std::max(envelope.mean(f - reach - 2, f - reach + 1), 0.25 * envelope.noise());
        jump = std::max(jump, envelope.mean(f, f + 2) / std::max(then, 1e-14));
    }
    shape.jump = Level::from_power(jump);

    shape.before =
        Level::from_power(quietest(envelope, event.first - frames(90), event.first - frames(10), quiet) / peak);
    shape.after = Level::from_power(quietest(envelope, peak_at + frames(40), peak_at + frames(220), quiet) / peak);
    const double limit = std::max(0.5 * envelope.noise(), 0.003 * peak);
    const std::int64_t step = std::max<std::int64_t>(4, frames(10));
    const double busy_before = share_busy(envelope, event.first - frames(600), event.first - frames(15), step, limit);
    const double busy_after = share_busy(envelope, event.main + frames(120), event.main + frames(600), step, limit);
    shape.busy = 0.5 * (busy_before + busy_after);

    const std::int64_t first = std::max(history.begin(), event.first);
    const std::int64_t last = std::min(history.end(), event.main + frames(15));
    const auto n = static_cast<double>(last - first);
    shape.octaves = history.bands() - 1;
    double below = 0.0;
    double whole = 0.0;
    for (std::size_t b = 0; b < history.bands(); ++b) {
        double sum = 0.0;
        double most = 0.0;
        for (std::int64_t f = first; f < last; ++f) {
            sum += history[f][b];
            most = std::max(most, history[f][b] + (f + 1 < last ? history[f + 1][b] : 0.0));
        }
        double before = 0.0;
        const std::int64_t from = std::max(history.begin(), first - frames(15));
        for (std::int64_t f = from; f < first; ++f) {
            before += history[f][b];
        }
        before = first > from ? before / static_cast<double>(first - from) : 0.0;
        const double power = std::max(0.0, sum / n - floor[b]);
        (b <= slow_octaves ? below : whole) += power;
        if (b == 0) {
            continue;
        }
        shape.octaves_risen += 0.5 * most > 4.0 * std::max({before, floor[b], 1e-14}) ? std::size_t{1} : std::size_t{0};
    }
    shape.below = Level::from_power(below / std::max(whole, 1e-30));
    return shape;
}

} // namespace retap::dsp
