#include "dsp/measure/bandwidth.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/base/window.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/filters/third_octave.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace retap::dsp {

namespace {

constexpr double slot_hz = 250.0;
constexpr double stands_out = 4.0;     // 6 dB in power
constexpr double relevant = 1e-6;      // -60 dB
constexpr double wall_drop = 1e-3;     // -30 dB
constexpr double noise_drop = 0.03;    // -15 dB
constexpr std::size_t wall_width = 4;  // slots
constexpr std::size_t lowest_wall = 6; // slots: 1.5 kHz

// Adds spectra of stretches, each as energy per slot.
class SlotSum {
public:
    SlotSum(SampleRate rate, std::size_t longest)
        : fft_(fast_fft_size(longest)), spacing_(rate.hz() / static_cast<double>(fft_.size())),
          sums_(static_cast<std::size_t>(0.5 * rate.hz() / slot_hz), 0.0) {}

    void add(std::span<const float> stretch, double weight) {
        const std::vector<double> bins = bin_energies(fft_.forward(stretch));
        for (std::size_t k = 1; k < bins.size(); ++k) {
            const auto slot = static_cast<std::size_t>(spacing_ * static_cast<double>(k) / slot_hz);
            if (slot < sums_.size()) {
                sums_[slot] += weight * bins[k];
            }
        }
    }

    [[nodiscard]] const std::vector<double>& sums() const { return sums_; }

private:
    RealFft fft_;
    double spacing_;
    std::vector<double> sums_;
};

double most(const std::vector<double>& energy, std::size_t from) {
    return *std::max_element(energy.begin() + static_cast<std::ptrdiff_t>(from), energy.end());
}

/// A dull tap ends steeply as well, but the noise goes on above it.
std::optional<double> wall(const std::vector<double>& energy, const std::vector<double>& noise, double strongest) {
    for (std::size_t i = energy.size(); i-- > lowest_wall + wall_width;) {
        const std::size_t edge = i - wall_width;
        const bool sound_ends = energy[edge] > relevant * strongest && most(energy, i) < wall_drop * energy[edge];
        if (sound_ends && most(noise, i) <= noise_drop * noise[edge]) {
            return slot_hz * static_cast<double>(edge + 1);
        }
    }
    return std::nullopt;
}

} // namespace

Bandwidth measure_bandwidth(std::span<const Tap> taps, SampleRate rate) {
    const auto samples = [&](double ms) { return static_cast<std::size_t>(Length::from_ms(ms, rate).samples()); };
    const std::size_t lead = samples(1.0);
    const std::size_t length = samples(21.0);
    SlotSum sound(rate, length);
    SlotSum noise(rate, length);
    bool any = false;
    for (const Tap& tap : taps) {
        const std::vector<float>& x = tap.excerpt.samples;
        const auto onset = static_cast<std::size_t>(std::max(0.0, tap.excerpt.onset_index));
        if (!tap.usable || onset < samples(10.0) || onset - lead + length > x.size()) {
            continue;
        }
        any = true;
        const auto begin = x.begin() + static_cast<std::ptrdiff_t>(onset - lead);
        std::vector<float> hit(begin, begin + static_cast<std::ptrdiff_t>(length));
        fade_in(std::span<float>(hit).first(lead));
        fade_out(std::span<float>(hit).last(length / 4));
        sound.add(hit, 1.0);

        const auto before = quiet_before(x, Position(tap.excerpt.onset_index), Length::from_ms(2.0, rate));
        const auto quiet = before.first(std::min(length, before.size()));
        std::vector<float> weighted = make_window(WindowKind::hann, quiet.size());
        std::ranges::transform(
            quiet, weighted, weighted.begin(),
            [offset = static_cast<float>(mean(quiet))](float v, float w) { return (v - offset) * w; });
        // a Hann window keeps 3/8 of the energy
        noise.add(weighted, 8.0 / 3.0 * static_cast<double>(length) / static_cast<double>(quiet.size()));
    }
    Bandwidth result;
    if (!any) {
        return result;
    }
    const std::vector<double>& energy = sound.sums();
    const double strongest = *std::ranges::max_element(energy);
    const auto clear = [&](std::size_t i) {
        return energy[i] > stands_out * noise.sums()[i] && energy[i] > relevant * strongest;
    };
    for (std::size_t i = 1; i < energy.size(); ++i) {
        if (clear(i - 1) && clear(i)) { // two in a row: one alone is chance when few taps are averaged
            result.taps_hz = slot_hz * static_cast<double>(i + 1);
        }
    }
    result.wall_hz = wall(energy, noise.sums(), strongest);
    if (result.wall_hz) {
        result.taps_hz = std::min(result.taps_hz, *result.wall_hz); // what shows above leaked over the wall
    }
    return result;
}

} // namespace retap::dsp
