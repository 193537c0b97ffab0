#include "compare/first_sound_evidence.hpp"

#include <algorithm>
#include <cmath>

namespace retap::compare {

FirstSoundShift shift_of(const std::array<dsp::FirstSound, 2>& sounds, const FirstSoundEvidenceSettings& settings) {
    constexpr auto levels = static_cast<double>(dsp::first_sound_levels_db.size());
    FirstSoundShift shift{.before_ms = sounds[0].ms.front(),
                          .after_ms = sounds[1].ms.front(),
                          .before_error_ms = sounds[0].standard_error_ms.front(),
                          .after_error_ms = sounds[1].standard_error_ms.front(),
                          .size = 0.0};
    for (std::size_t l = 0; l < dsp::first_sound_levels_db.size(); ++l) {
        const double error =
            std::hypot(sounds[0].standard_error_ms.at(l), sounds[1].standard_error_ms.at(l), settings.drift_ms);
        shift.size += std::abs(sounds[1].ms.at(l) - sounds[0].ms.at(l)) / error / levels;
    }
    return shift;
}

LandingDifference weighed(const LandingDifference& landing, const FirstSoundShift& shift,
                          const FirstSoundEvidenceSettings& settings) {
    const double size = std::min(shift.size, settings.most) + settings.least;
    const double factor = std::pow(size / (settings.usual + settings.least), settings.power);
    return {.ratio = landing.ratio * factor, .standard_error = landing.standard_error * factor};
}

} // namespace retap::compare
