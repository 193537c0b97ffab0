#include "dsp/filters/octave_bank.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace retap::dsp {

namespace {
// tan^2(18 deg) and tan^2(36 deg).
constexpr float odd_pole = 0.105572809F;
constexpr float even_pole = 0.527864045F;

// A decaying filter state would end as a denormal number, on which arithmetic is slow; this is far below any sound.
float without_denormal(float x) {
    return std::abs(x) < 1e-25F ? 0.0F : x;
}
} // namespace

OctaveBank::OctaveBank(int levels, std::size_t slow) {
    assert(levels >= 1 && static_cast<std::size_t>(levels) + slow < 24);
    splits_.resize(static_cast<std::size_t>(levels));
    slow_.resize(slow);
    work_.resize(frame_length());
}

// How often the band's samples were halved in number.
std::size_t OctaveBank::level_of(std::size_t band) const {
    assert(band < bands());
    return std::min(bands() - 1, bands() - band);
}

double OctaveBank::samples_per_frame(std::size_t band) const {
    return std::ldexp(1.0, static_cast<int>(splits_.size()) - static_cast<int>(level_of(band)));
}

Length OctaveBank::delay(std::size_t band) const {
    const double halved = 1.6180339887 * (std::ldexp(1.0, static_cast<int>(level_of(band))) - 1.0);
    // A slow octave's energy is known in the last of the frames it stands for.
    const double waited = std::max(0.0, 1.0 / samples_per_frame(band) - 1.0) * static_cast<double>(frame_length());
    return Length(halved + waited);
}

// Leaves the low half in the first half of `samples`; returns the mean square of the high half.
double OctaveBank::split(Split& state, std::span<float> samples) {
    Split s = state;
    double sum = 0.0;
    const std::size_t half = samples.size() / 2;
    for (std::size_t i = 0; i < half; ++i) {
        const float even = samples[2 * i];
        const float odd = samples[2 * i + 1];
        s.odd_out = s.odd_in + odd_pole * (odd - s.odd_out);
        s.even_out = s.even_in + even_pole * (even - s.even_out);
        s.odd_in = odd;
        s.even_in = even;
        const float high = 0.5F * (s.odd_out - s.even_out);
        samples[i] = 0.5F * (s.odd_out + s.even_out);
        sum += static_cast<double>(high * high);
    }
    state = {without_denormal(s.odd_in), without_denormal(s.odd_out), without_denormal(s.even_in),
             without_denormal(s.even_out)};
    return sum / static_cast<double>(half);
}

void OctaveBank::process(std::span<const float> frame, std::span<double> energies) {
    assert(frame.size() == frame_length() && energies.size() == bands());
    if (!started_) {
        // As if the first sample had lasted for ever: an offset is not a step.
        const Split rest{frame[0], frame[0], frame[0], frame[0]};
        std::fill(splits_.begin(), splits_.end(), rest);
        std::fill(slow_.begin(), slow_.end(), Slow{.filter = rest});
        below_ = static_cast<double>(frame[0] * frame[0]);
        started_ = true;
    }
    std::copy(frame.begin(), frame.end(), work_.begin());
    std::span<float> rest(work_);
    for (std::size_t level = 0; level < splits_.size(); ++level) {
        energies[bands() - 1 - level] = split(splits_[level], rest);
        rest = rest.first(rest.size() / 2);
    }
    process_slow(rest[0], energies);
}

void OctaveBank::process_slow(float sample, std::span<double> energies) {
    bool reached = true;
    for (std::size_t s = 0; s < slow_.size() && reached; ++s) {
        reached = slow_[s].waiting.has_value();
        if (reached) {
            std::array<float, 2> pair{*slow_[s].waiting, sample};
            slow_[s].energy = split(slow_[s].filter, pair);
            slow_[s].waiting.reset();
            sample = pair[0];
        } else {
            slow_[s].waiting = sample;
        }
    }
    if (reached) {
        below_ = static_cast<double>(sample * sample);
    }
    for (std::size_t s = 0; s < slow_.size(); ++s) {
        energies[slow_.size() - s] = slow_[s].energy;
    }
    energies[0] = below_;
}

} // namespace retap::dsp
