// The comparator: takes on both sides in, one answer out.
#pragma once

#include "compare/comparison.hpp"
#include "compare/evidence.hpp"
#include "compare/first_sound_evidence.hpp"
#include "compare/landing_difference.hpp"
#include "compare/later_contacts.hpp"
#include "compare/level_evidence.hpp"
#include "compare/profile_difference.hpp"
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
    ProfileDifferenceSettings profile;
    LaterContactsSettings later;
    LevelEvidenceSettings level;
    EvidenceSettings evidence;
    std::size_t min_taps = 4;         ///< on each side; fewer cannot show what is usual
    std::size_t max_taps_a_take = 12; ///< more are thinned out evenly: they would add time, and little else
    /// A light first contact, some 20 to 40 dB under the main impact, may be hidden in the noise. Where sound at this
    /// level re the peak would be lost in the noise of a side, takes may be `different`, but not `alike`.
    double hidden_depth_db = -15.0;
    /// Nor may taps that are heard no further up than this: contacts 0.5 ms apart, of 50 um at 100 mm/s, are one to
    /// such an ear.
    double min_alike_band_hz = 2000.0;
    double shown_confidence = 0.95; ///< of the intervals of measures that are shown and do not decide
};

/// Compares before with after. Each side has at least one take (asserted); further ones are repeats with the pick-up
/// taken off and put back, and teach how much re-seating moves the landing. Takes that are not fit give `unclear`
/// with the reason, and so does one recording on both sides (`same_sound`). Swapping the sides gives the same score and
/// the opposite differences.
///
/// Five kinds of evidence are added (compare/evidence): how the contacts land (compare/landing_difference), by how much
/// the first sound comes before the main impact (compare/first_sound_evidence), when the energy comes
/// (compare/profile_difference), contacts told apart (compare/later_contacts), and at one setting the level
/// (compare/level_evidence). All but the level stay put when gain, polarity, force or the seat of the pick-up change.
/// `alike` when the sum with its interval stays within what unchanged bites do, `different` when it lies beyond. The
/// level takes `alike` away; it makes `different` by itself only when a second take repeats it. Of softer taps that
/// stand too little over the noise the level is told, not the noise.
///
/// The other measures are shown with their intervals. Only the first `keep_sound_of` taps of a take
/// (dsp::TakeSettings) have their sound and can take part. Of takes with two channels the one that hears the taps
/// better decides (compare/heard_channel).
[[nodiscard]] Comparison compare_takes(std::span<const dsp::TakeAnalysis> before,
                                       std::span<const dsp::TakeAnalysis> after, Setting setting = Setting::unknown,
                                       const CompareSettings& settings = {});

} // namespace retap::compare
