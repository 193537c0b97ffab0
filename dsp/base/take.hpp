// What the sound stage finds in a take. Plain values, filled by dsp/take_analyser and read by everybody else.
// Times named _s count from the start of the recording; times named _ms count from the tap's onset.
#pragma once

#include "dsp/base/excerpt.hpp"
#include "dsp/base/units.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace retap::dsp {

struct AnalysisSettings; // dsp/analysis_settings.hpp, above the rooms

/// The rate every take is analysed at. Files at another rate are converted first (src/audio), so that one bite gives
/// one answer whatever it was recorded at.
inline constexpr double analysis_rate_hz = 48000.0;

/// One impact that can be told apart inside a tap.
struct Contact {
    double at_ms = 0.0;    ///< from the tap's onset; the first contact is at 0
    double strength = 0.0; ///< relative to the strongest contact of the tap, 0..1
};

/// Bands of the timing profile, Hz: skull and teeth ring longest in the lowest, contacts are sharpest in the highest.
struct ArrivalBand {
    double from_hz;
    double to_hz;
};
inline constexpr std::array<ArrivalBand, 3> arrival_bands{ArrivalBand{300.0, 1000.0}, ArrivalBand{1000.0, 3500.0},
                                                          ArrivalBand{3500.0, 12000.0}};

/// Shares of a tap's energy in a band, of which the time is told.
inline constexpr std::array<double, 3> arrival_shares{0.1, 0.5, 0.9};

/// Time of each share in milliseconds after the onset; nothing where the tap does not stand out of the noise.
using ArrivalTimes = std::optional<std::array<double, arrival_shares.size()>>;

/// Why a tap cannot be used. Their words are in src/report/reason_words.
enum class Unusable {
    clipped,           ///< its loudest part was cut off
    broken,            ///< samples are missing in it
    followed_too_soon, ///< the next tap leaves nothing of it to be measured
    too_soft,          ///< it does not stand clear of the noise
};

/// One closing of the teeth. A tap that is not usable keeps its reasons and whatever could still be measured.
struct Tap {
    double onset_s = 0.0;
    bool usable = true;
    std::vector<Unusable> reasons; ///< why it is not usable
    std::vector<Contact> contacts;
    double onset_spread_ms = 0.0; ///< first contact to the last one that matters
    double resolution_ms = 0.0;   ///< arrivals nearer than this count as one (about 1 / bandwidth)
    std::vector<ArrivalTimes>
        arrival_ms;           ///< timing profile: one for each of `arrival_bands`, or none when not measured
    bool measured = true;     ///< false: too soft or followed too soon; of what follows only peak and excerpt count
    double rise_ms = 0.0;     ///< first threshold crossing to peak
    double duration_ms = 0.0; ///< first threshold crossing to last
    std::optional<double> decay_ms; ///< early decay time (ISO 3382-1); nothing where the sound does not show it
    double peak_dbfs = 0.0;
    double energy_db = 0.0; ///< sum of squares over the tap, relative to one full-scale sample
    double centroid_hz = 0.0;
    std::vector<double> bands_db; ///< energy in base-10 third-octave bands; centres in TakeAnalysis::band_centres_hz
    std::optional<double> left_lead_ms;   ///< two channels only: positive when the left side hears it first
    std::optional<double> left_excess_db; ///< two channels only: level of left over right
    Excerpt excerpt;
};

/// Why an event is no tap: by itself (find/tap_rules), or held against the others (run/qualify_run). Their words are in
/// src/report/reason_words.
enum class NoTap {
    overshadowed,  ///< a stronger event follows too closely
    too_soft,      ///< hardly louder than the noise
    restless,      ///< no more sudden than what else is heard around it
    swells,        ///< it swells up slowly
    lasts,         ///< it rings on
    in_the_middle, ///< other sound runs into it
    among_talk,    ///< other sound goes on around it
    thud,          ///< nearly all of it is low
    tone,          ///< it sounds in one octave only
    level_apart,   ///< much louder or softer than the taps of the run
    off_beat,      ///< off the beat of the run
    unlike,        ///< it sounds unlike the taps of the run
    stands_apart,  ///< too few together, before or after the run
    strangers,     ///< no three of these sounds are alike and keep a beat
};

/// An event that was considered and is not a tap.
struct TurnedDown {
    double at_s = 0.0;
    NoTap reason = NoTap::too_soft;
};

/// Whether a take can be relied on, and what was looked at to say so.
struct Fitness {
    bool usable = true;
    std::vector<std::string> reasons;  ///< why it is not fit, each with what to try
    std::vector<std::string> cautions; ///< worth knowing, but the take stands
    double noise_dbfs = 0.0;           ///< RMS between taps in the analysis band
    double snr_db = 0.0;               ///< median tap peak over that RMS
    std::size_t clipped_samples = 0;
    std::size_t dropouts = 0;
    double bandwidth_hz = 0.0; ///< up to where the taps stand out of the noise
};

/// Middle and scatter of one measure over the usable taps of a take.
struct Summary {
    double middle = 0.0;  ///< median
    double scatter = 0.0; ///< robust standard deviation of one tap (1.4826 MAD for many taps)
    std::size_t n = 0;
};

/// Everything the sound stage says about one take.
struct TakeAnalysis {
    std::string file;            ///< as the caller named it; may be empty
    std::string device;          ///< that recorded it, as its own note says; empty when not known
    std::string recorded_on;     ///< local date and time of the recording, from the same note; may be empty
    double sample_rate_hz = 0.0; ///< of the recording itself
    int channels = 1;
    double duration_s = 0.0;
    Fitness fitness;
    std::vector<Tap> taps;               ///< by time
    std::vector<TurnedDown> turned_down; ///< by time
    std::vector<double> band_centres_hz;
    std::shared_ptr<const AnalysisSettings> settings; ///< that were in force; none in a take that nobody analysed
};

} // namespace retap::dsp
