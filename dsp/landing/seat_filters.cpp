#include "dsp/landing/seat_filters.hpp"

#include "dsp/filters/minimum_phase.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <random>

namespace retap::dsp {
namespace {

/// Spelled out (Box and Muller 1958): std::normal_distribution may differ between libraries.
class Normal {
public:
    explicit Normal(unsigned seed) : random_(seed) {}
    double operator()() {
        const double radius = std::sqrt(-2.0 * std::log(uniform()));
        return radius * std::cos(2.0 * std::numbers::pi * uniform());
    }

private:
    double uniform() { return (static_cast<double>(random_()) + 0.5) / 4294967296.0; }
    std::mt19937 random_;
};

} // namespace

std::vector<std::vector<float>> draw_seat_phases(std::size_t count, std::size_t bins, SampleRate rate, double strength,
                                                 unsigned seed, const SeatScatter& scatter) {
    assert(scatter.bands_an_octave > 0);
    constexpr double lowest_octave = -4.0; // about 1 kHz: 62 Hz to 16 kHz
    constexpr std::size_t octaves = 8;
    const auto per_octave = static_cast<double>(scatter.bands_an_octave);
    const std::size_t points = octaves * scatter.bands_an_octave + 1;
    const double nepers_per_db = std::numbers::ln10 / 20.0;
    const double between_two = std::numbers::sqrt2 * strength * nepers_per_db;
    Normal normal(seed);
    std::vector<std::vector<float>> phases;
    for (std::size_t n = 0; n < count; ++n) {
        std::vector<double> gain(points);
        for (double& g : gain) {
            g = between_two * scatter.band_db * normal();
        }
        const double tilt = between_two * scatter.tilt_db_per_octave * normal();
        std::vector<double> log_magnitude(bins);
        for (std::size_t k = 0; k < bins; ++k) {
            const double hz = static_cast<double>(k) * rate.hz() / (2.0 * static_cast<double>(bins - 1));
            const double place = std::log2(std::max(hz, 50.0) / 1000.0);
            const double at = std::clamp((place - lowest_octave) * per_octave, 0.0, static_cast<double>(points - 1));
            const auto below = std::min(static_cast<std::size_t>(at), points - 2);
            log_magnitude[k] = std::lerp(gain[below], gain[below + 1], at - static_cast<double>(below)) + tilt * place;
        }
        phases.push_back(minimum_phase(log_magnitude));
    }
    return phases;
}

} // namespace retap::dsp
