// The measures of one tap as an impact, in the vocabulary of acoustic-emission testing (ASTM E1316): a threshold, its
// first and last crossing, the peak between them, the energy.
#pragma once

#include "dsp/base/units.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/filters/third_octave.hpp"

#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

struct ImpactSettings {
    Level threshold{-20.0};     ///< re the tap's peak, as long as the noise allows
    Level clear_of_noise{14.0}; ///< least distance of the threshold from the noise RMS: 5 sigma, once in 2e6 samples
    double lead_ms = 1.0;       ///< measured from this long before the onset
    double longest_ms = 80.0;   ///< and at most until this long after it
    double guard_ms = 2.0;      ///< but this long before the next tap
    double hit_definition_ms = 20.0; ///< so long below the threshold ends the tap
    double fade_out_ms = 8.0;        ///< end of the measured stretch, tapered before its spectrum is taken
    int lowest_band = -10;           ///< 100 Hz
    int highest_band = 10;           ///< 10 kHz
};

struct ImpactMeasures {
    double rise_ms = 0.0;           ///< first threshold crossing to peak
    double duration_ms = 0.0;       ///< first threshold crossing to last
    std::optional<double> decay_ms; ///< early decay time (ISO 3382-1) from the onset; nothing where it cannot be seen
    double peak_dbfs = 0.0;         ///< largest sample
    double energy_db = 0.0;         ///< sum of squares less the noise expected in it, re one full-scale sample
    double centroid_hz = 0.0;       ///< mean frequency, weighted by energy, over the bands
    std::vector<double> bands_db;   ///< energy in each band, re one full-scale sample
    double threshold_db = 0.0;      ///< where the threshold stood, re the peak; durations at different ones differ
};

/// Measures taps one after another; keeps its tables between them. Not for two threads at once (copy it instead).
///
/// Thresholds hang on the tap's own peak and on the noise, so gain and polarity move levels and nothing else. A
/// constant offset is taken off (mean of the excerpt before the onset). Times come from the waveform itself, not from
/// an envelope, so that nothing is smeared ahead of the onset: they are exact to a fraction of a sample, and the last
/// crossing sits on the last half-cycle that reaches the threshold (half a period early at most). Where the noise lifts
/// the threshold above -20 dB (peak less than 34 dB over the noise) rise and duration come out shorter and less
/// certain; threshold_db tells. Band energies and centroid contain the noise of the stretch.
class ImpactMeter {
public:
    ImpactMeter(SampleRate rate, const ImpactSettings& settings);

    /// `excerpt` is one channel around the tap, at best from 20 ms before its onset to 120 ms after it; `onset` counts
    /// from the excerpt's first sample and lies within it (asserted). `noise` is the RMS between taps, re full scale;
    /// what precedes the onset in the excerpt is believed when it is louder. `next_onset`, when there is one, counts
    /// from the excerpt's start too. Nothing is returned when the sound does not stand clear of the noise, or the tap
    /// is followed_too_soon().
    [[nodiscard]] std::optional<ImpactMeasures> measure(std::span<const float> excerpt, Position onset, Level noise,
                                                        std::optional<Position> next_onset = std::nullopt);

    /// Whether a tap is followed so soon that nothing of it is left to measure, however loud it is.
    [[nodiscard]] bool followed_too_soon(Position onset, Position next_onset) const {
        return next_onset - onset <= Length::from_ms(settings_.guard_ms, rate_);
    }

    [[nodiscard]] const ImpactSettings& settings() const { return settings_; }
    [[nodiscard]] const std::vector<FrequencyBand>& bands() const { return bands_; }

private:
    SampleRate rate_;
    ImpactSettings settings_;
    std::vector<FrequencyBand> bands_;
    RealFft fft_;
};

} // namespace retap::dsp
