#include "compare/first_sound_evidence.hpp"

#include <algorithm>
#include <cmath>

namespace retap::compare {

FirstSoundShift shift_of(const dsp::FirstSounds& sounds, const FirstSoundEvidenceSettings& settings) {
    constexpr auto levels = static_cast<double>(dsp::first_sound_levels_db.size());
    const auto& [before, after] = sounds.side;
    FirstSoundShift shift{.before_ms = before.ms.front(),
                          .after_ms = after.ms.front(),
                          .before_error_ms = before.standard_error_ms.front(),
                          .after_error_ms = after.standard_error_ms.front(),
                          .size = 0.0,
                          .deepest_db = sounds.deepest_db};
    for (std::size_t l = 0; l < dsp::first_sound_levels_db.size(); ++l) {
        const double error =
            std::hypot(before.standard_error_ms.at(l), after.standard_error_ms.at(l), settings.drift_ms);
        shift.size += std::abs(after.ms.at(l) - before.ms.at(l)) / error / levels;
    }
    return shift;
}

std::optional<FirstSoundShift> shift_between(std::span<const dsp::TapSound> taps, std::span<const double> main_impact,
                                             std::span<const std::size_t> side, dsp::SampleRate rate,
                                             const FirstSoundEvidenceSettings& settings) {
    const auto hear = [&](double from_hz, double blur_ms) -> std::optional<FirstSoundShift> {
        dsp::FirstSoundSettings hearing = settings.pooled;
        hearing.from_hz = from_hz;
        hearing.blur_ms = blur_ms;
        const std::optional<dsp::FirstSounds> heard = dsp::first_sounds(taps, main_impact, side, rate, hearing);
        return heard ? std::optional(shift_of(*heard, settings)) : std::nullopt;
    };
    std::optional<FirstSoundShift> told;
    double sizes = 0.0;
    double hearings = 0.0;
    for (const double from_hz : {settings.pooled.from_hz, settings.further_from_hz[0], settings.further_from_hz[1]}) {
        for (const double blur_ms :
             {settings.pooled.blur_ms, settings.further_blur_ms[0], settings.further_blur_ms[1]}) {
            const std::optional<FirstSoundShift> shift = hear(from_hz, blur_ms);
            if (shift) {
                sizes += std::min(shift->size, settings.most);
                hearings += 1.0;
            } else if (hearings == 0.0) {
                return std::nullopt;
            }
            told = told ? told : shift;
        }
    }
    told->size = sizes / hearings;
    return told;
}

double weight_of(const FirstSoundShift& shift, const FirstSoundEvidenceSettings& settings) {
    const double size = std::min(shift.size, settings.most) + settings.least;
    return settings.power * std::log(size / (settings.usual + settings.least));
}

} // namespace retap::compare
