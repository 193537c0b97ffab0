#include "dsp/landing/phat_profile.hpp"

#include "dsp/base/gaussian_kernel.hpp"
#include "dsp/base/whole_samples.hpp"

#include <cmath>

namespace retap::dsp {

PhatProfileReader::PhatProfileReader(SampleRate rate, const LandingSettings& settings)
    : samples_a_ms_(Length::from_ms(1.0, rate).samples()), chance_density_(settings.chance_density),
      share_(static_cast<std::ptrdiff_t>(whole_samples(settings.share_ms, rate))),
      bell_(half_gaussian(Length::from_ms(settings.blur_ms, rate).samples())) {}

double PhatProfileReader::energy(const GccPhat& correlation, std::ptrdiff_t lag) const {
    const auto square = [&correlation](std::ptrdiff_t at) {
        const auto v = static_cast<double>(correlation.value(at));
        return v * v;
    };
    double sum = static_cast<double>(bell_[0]) * square(lag);
    for (std::size_t i = 1; i < bell_.size(); ++i) {
        const auto step = static_cast<std::ptrdiff_t>(i);
        sum += static_cast<double>(bell_[i]) * (square(lag + step) + square(lag - step));
    }
    return sum;
}

float PhatProfileReader::density_db(double energy_per_sample, double all) const {
    const double density = all > 0.0 ? energy_per_sample * samples_a_ms_ / all : 0.0;
    return static_cast<float>(10.0 * std::log10(density + chance_density_));
}

PhatProfilePair PhatProfileReader::rows(const GccPhat& correlation, std::ptrdiff_t peak) const {
    double all = 0.0;
    for (std::ptrdiff_t i = -share_; i < share_; ++i) {
        const auto v = static_cast<double>(correlation.value(peak + i));
        all += v * v;
    }
    PhatProfilePair rows;
    for (std::size_t i = 0; i < phat_lags_ms.size(); ++i) {
        const auto lag = static_cast<std::ptrdiff_t>(std::lround(phat_lags_ms.at(i) * samples_a_ms_));
        rows.forth.at(i) = density_db(energy(correlation, peak + lag), all);
        rows.back.at(i) = density_db(energy(correlation, peak - lag), all);
    }
    return rows;
}

} // namespace retap::dsp
