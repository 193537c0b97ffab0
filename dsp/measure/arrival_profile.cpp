#include "dsp/measure/arrival_profile.hpp"

#include "dsp/base/whole_samples.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace retap::dsp {

ArrivalMeter::ArrivalMeter(SampleRate rate, const ArrivalSettings& settings)
    : rate_(rate), settling_(whole_samples(settings.settling_ms, rate)), quiet_(whole_samples(settings.quiet_ms, rate)),
      early_(whole_samples(settings.early_ms, rate)), window_(whole_samples(settings.window_ms, rate)),
      min_ratio_(settings.min_ratio) {
    for (const ArrivalBand& band : arrival_bands) {
        filters_.push_back({.above = Butterworth::high_pass(Frequency(band.from_hz), rate),
                            .below = Butterworth::low_pass(Frequency(band.to_hz), rate)});
    }
    std::vector<double> click(settling_ + quiet_ + early_ + window_, 0.0);
    click[settling_ + quiet_ + early_] = 1.0;
    for (const Filter& filter : filters_) {
        click_.push_back(times(filter, click, 0.0).value_or(std::array<double, arrival_shares.size()>{}));
    }
}

std::array<ArrivalTimes, arrival_bands.size()> ArrivalMeter::measure(std::span<const float> excerpt,
                                                                     Position onset) const {
    std::array<ArrivalTimes, arrival_bands.size()> profile;
    const double whole = std::floor(onset.samples());
    const auto begin = static_cast<std::ptrdiff_t>(whole) - static_cast<std::ptrdiff_t>(settling_ + quiet_ + early_);
    const auto end = static_cast<std::ptrdiff_t>(whole) + static_cast<std::ptrdiff_t>(window_);
    if (begin < 0 || end > static_cast<std::ptrdiff_t>(excerpt.size())) {
        return profile;
    }
    const std::vector<double> sound(excerpt.begin() + begin, excerpt.begin() + end);
    for (std::size_t b = 0; b < profile.size(); ++b) {
        profile.at(b) = times(filters_[b], sound, onset.samples() - whole);
        if (profile.at(b)) {
            std::ranges::transform(*profile.at(b), click_[b], profile.at(b)->begin(), std::minus<>());
        }
    }
    return profile;
}

/// Milliseconds after the onset, which lies `part` of a sample after the whole one that the layout has.
ArrivalTimes ArrivalMeter::times(const Filter& filter, std::vector<double> sound, double part) const {
    filter.above.apply(sound);
    filter.below.apply(sound);
    std::ranges::transform(sound, sound.begin(), [](double v) { return v * v; });
    const std::span<const double> quiet = std::span<const double>(sound).subspan(settling_, quiet_);
    double noise = 0.0;
    for (const double e : quiet) {
        noise += e / static_cast<double>(quiet.size());
    }
    const std::span<const double> heard = std::span<const double>(sound).subspan(settling_ + quiet_);
    std::vector<double> arrived{0.0};
    for (const double e : heard) {
        arrived.push_back(arrived.back() + e - noise);
    }
    const double all = arrived.back();
    if (all <= 0.0 || all < min_ratio_ * noise * static_cast<double>(heard.size())) {
        return std::nullopt;
    }
    std::array<double, arrival_shares.size()> out{};
    std::ranges::transform(arrival_shares, out.begin(), [&](double share) {
        const auto reached = std::ranges::find_if(arrived, [&](double e) { return e >= share * all; });
        const double rest = *reached - share * all;
        const double step = reached == arrived.begin() ? 1.0 : *reached - *(reached - 1);
        const double at = static_cast<double>(reached - arrived.begin()) - rest / step;
        return Length(at - static_cast<double>(early_) - part).ms(rate_);
    });
    return out;
}

} // namespace retap::dsp
