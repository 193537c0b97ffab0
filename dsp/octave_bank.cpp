#include "dsp/octave_bank.hpp"

#include <algorithm>
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

OctaveBank::OctaveBank(int levels) {
    assert(levels >= 1 && levels < 24);
    splits_.resize(static_cast<std::size_t>(levels));
    work_.resize(frame_length());
}

Length OctaveBank::delay(std::size_t band) const {
    assert(band < bands());
    const std::size_t level = std::min(splits_.size(), splits_.size() + 1 - band);
    return Length(1.6180339887 * (static_cast<double>(std::size_t{1} << level) - 1.0));
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
        std::fill(splits_.begin(), splits_.end(), Split{frame[0], frame[0], frame[0], frame[0]});
        started_ = true;
    }
    std::copy(frame.begin(), frame.end(), work_.begin());
    std::span<float> rest(work_);
    for (std::size_t level = 0; level < splits_.size(); ++level) {
        energies[splits_.size() - level] = split(splits_[level], rest);
        rest = rest.first(rest.size() / 2);
    }
    energies[0] = static_cast<double>(rest[0] * rest[0]);
}

} // namespace retap::dsp
