#include "dsp/contacts/resolution.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/window.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/filters/third_octave.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace retap::dsp {

namespace {

constexpr double slot_hz = 500.0;
constexpr double stands_out = 4.0; // 6 dB in power
constexpr double relevant = 1e-6;  // -60 dB

void add_energy(std::vector<double>& slots, RealFft& fft, std::span<const float> sound, SampleRate rate) {
    const std::vector<double> bins = bin_energies(fft.forward(sound));
    for (std::size_t k = 1; k < bins.size(); ++k) {
        const double hz = static_cast<double>(k) * rate.hz() / static_cast<double>(fft.size());
        const auto slot = static_cast<std::size_t>(hz / slot_hz);
        if (slot < slots.size()) {
            slots[slot] += bins[k];
        }
    }
}

// Both stretches get the same window, so that noise weighs the same in either.
std::vector<float> windowed(std::span<const float> sound, std::size_t lead) {
    std::vector<float> out(sound.begin(), sound.end());
    fade_in(std::span<float>(out).first(lead));
    fade_out(std::span<float>(out).last(out.size() / 2));
    return out;
}

} // namespace

Frequency usable_bandwidth(std::span<const TapSound> taps, SampleRate rate) {
    const auto samples = [rate](double ms) { return static_cast<std::size_t>(Length::from_ms(ms, rate).samples()); };
    const std::size_t lead = samples(1.0);
    const std::size_t length = samples(8.0);
    RealFft fft(fast_fft_size(length));
    std::vector<double> sound(static_cast<std::size_t>(0.5 * rate.hz() / slot_hz), 0.0);
    std::vector<double> noise = sound;
    for (const TapSound& tap : taps) {
        const auto onset = static_cast<std::size_t>(std::max(0.0, tap.onset.samples()));
        if (onset < samples(5.0) || onset - lead + length > tap.samples.size()) {
            continue;
        }
        add_energy(sound, fft, windowed(tap.samples.subspan(onset - lead, length), lead), rate);
        // as much quiet as there is room for, up to the same length; a shorter one is scaled up
        const auto before = quiet_before(tap.samples, tap.onset, Length(static_cast<double>(2 * lead)));
        const auto quiet = before.last(std::min(length, before.size()));
        std::vector<double> part(noise.size(), 0.0);
        add_energy(part, fft, windowed(quiet, lead), rate);
        for (std::size_t i = 0; i < part.size(); ++i) {
            noise[i] += part[i] * static_cast<double>(length) / static_cast<double>(quiet.size());
        }
    }
    const double strongest = sound.empty() ? 0.0 : *std::ranges::max_element(sound);
    double width = 0.0;
    for (std::size_t i = 0; i < sound.size(); ++i) {
        if (sound[i] > stands_out * noise[i] && sound[i] > relevant * strongest) {
            width += slot_hz;
        }
    }
    return Frequency(width);
}

} // namespace retap::dsp
