#include "report/tap_envelope.hpp"

#include <algorithm>
#include <cmath>

namespace retap::report {

std::size_t EnvelopeWindow::points() const {
    return static_cast<std::size_t>(std::floor((to_ms - from_ms) / step_ms + 0.5)) + 1;
}

std::vector<double> tap_envelope(const dsp::Excerpt& excerpt, const EnvelopeWindow& window) {
    const auto size = static_cast<std::ptrdiff_t>(excerpt.samples.size());
    std::vector<double> energy_before(excerpt.samples.size() + 1, 0.0);
    for (std::size_t i = 0; i < excerpt.samples.size(); ++i) {
        const auto sample = static_cast<double>(excerpt.samples[i]);
        energy_before[i + 1] = energy_before[i] + (std::isfinite(sample) ? sample * sample : 0.0);
    }
    const double per_ms = dsp::analysis_rate_hz / 1000.0;
    const double half = window.smoothing_ms * per_ms / 2.0;
    std::vector<double> curve(window.points(), 0.0);
    for (std::size_t point = 0; point < curve.size(); ++point) {
        const double centre = excerpt.onset_index + window.at_ms(point) * per_ms;
        const auto from = static_cast<std::ptrdiff_t>(std::ceil(centre - half));
        const auto to = static_cast<std::ptrdiff_t>(std::floor(centre + half)) + 1;
        const auto first = std::clamp<std::ptrdiff_t>(from, 0, size);
        const auto last = std::clamp<std::ptrdiff_t>(to, 0, size);
        const double energy =
            energy_before[static_cast<std::size_t>(last)] - energy_before[static_cast<std::size_t>(first)];
        curve[point] = std::sqrt(std::max(0.0, energy) / static_cast<double>(to - from));
    }
    const double loudest = *std::max_element(curve.begin(), curve.end());
    if (!(loudest > 0.0)) {
        return {};
    }
    for (double& value : curve) {
        value /= loudest;
    }
    return curve;
}

std::vector<double> median_curve(const std::vector<std::vector<double>>& curves) {
    std::vector<double> middle;
    if (curves.empty()) {
        return middle;
    }
    middle.reserve(curves.front().size());
    std::vector<double> column(curves.size());
    for (std::size_t point = 0; point < curves.front().size(); ++point) {
        std::transform(curves.begin(), curves.end(), column.begin(), [&](const auto& curve) { return curve[point]; });
        std::sort(column.begin(), column.end());
        const std::size_t half = column.size() / 2;
        middle.push_back(column.size() % 2 == 1 ? column[half] : (column[half - 1] + column[half]) / 2.0);
    }
    return middle;
}

} // namespace retap::report
