// The comparator: takes on both sides in, one answer out.
#pragma once

#include "compare/comparison.hpp"
#include "compare/first_sound_evidence.hpp"
#include "compare/landing_difference.hpp"
#include "dsp/base/take.hpp"
#include "dsp/landing/settings.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace retap::compare {

/// One measure of a take: what it is called, its unit, and its middle and scatter over the usable taps.
struct SignatureEntry {
    std::string name;
    std::string unit;
    dsp::Summary summary;
};

/// What a take is summarised to, one entry per measure that could be taken. Order is fixed.
[[nodiscard]] std::vector<SignatureEntry> signature_of(const dsp::TakeAnalysis& take);

/// One measure of every usable tap that shows it.
struct TapValues {
    std::string name;
    std::string unit;
    std::vector<double> values;
};
/// All measures in fixed order; values may be empty.
[[nodiscard]] std::vector<TapValues> values_by_measure(const dsp::TakeAnalysis& take);

struct CompareSettings {
    dsp::LandingSettings landing;
    LandingDifferenceSettings difference;
    FirstSoundEvidenceSettings first_sound;
    std::size_t min_taps = 4;         ///< on each side; fewer cannot show what is usual
    std::size_t max_taps_a_take = 12; ///< more are thinned out evenly: they would add time, and little else
    /// Differences of landing up to this many times the usual count as the same bite. From the calibration (README,
    /// tools/validation): unchanged bites with the pick-up re-seated stay below, bites raised by 50 um mostly lie
    /// above.
    double landing_tolerance = 1.9;
    /// A light first contact, some 20 to 40 dB under the main impact, may be hidden in the noise. Where sound at the
    /// second of these levels re the peak would be lost in the noise of a side, the interval is made so many times as
    /// wide; down to the first it stays, and between them it widens evenly.
    double heard_depth_db = -35.0;
    double hidden_depth_db = -15.0;
    double hidden_widening = 2.0;
    /// Taps that are heard no further up than this may be `different`, but not `alike`: contacts 0.5 ms apart, of 50 um
    /// at 100 mm/s, are one to such an ear.
    double min_alike_band_hz = 2000.0;
    double interval_sigmas = 1.64;   ///< the interval covers 90 %: two one-sided tests at 5 % each
    double likeness_steepness = 4.0; ///< of the likeness about the tolerance
    double shown_confidence = 0.95;  ///< of the intervals of measures that are shown and do not decide
};

/// Compares before with after. Each side has at least one take (asserted); further ones are repeats with the pick-up
/// taken off and put back, and teach how much re-seating moves the landing. Takes that are not fit give `unclear`
/// with the reason. Swapping the sides gives the same score and the opposite differences; a take against itself
/// scores 100.
///
/// Two measures decide: how the contacts land (dsp/landing/landing, compare/landing_difference), weighed by how far the
/// first sound moved against the main impact; and that shift itself (dsp/landing/first_sound,
/// compare/first_sound_evidence). These alone stay put when gain, polarity, force or the seat of the pick-up change.
/// `alike` takes both within their tolerances, `different` one beyond; but a landing that differs while the first sound
/// stood still is colour, and `unclear`. The likeness is that of the worse of the two. The others are shown with their
/// intervals. Only the first `keep_sound_of` taps of a take (dsp::TakeSettings) have their sound and can take part. Of
/// takes with two channels the one that hears the taps better decides (compare/heard_channel).
[[nodiscard]] Comparison compare_takes(std::span<const dsp::TakeAnalysis> before,
                                       std::span<const dsp::TakeAnalysis> after, const CompareSettings& settings = {});

} // namespace retap::compare
