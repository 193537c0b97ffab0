// Everything that stands out of the noise, tap or not: where to look closely.
#pragma once

#include "dsp/base/ranked_value.hpp"
#include "dsp/base/units.hpp"
#include "dsp/filters/octave_bank.hpp"
#include "dsp/stream/frame_history.hpp"
#include "dsp/stream/noise_floor.hpp"

#include <cstdint>
#include <deque>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// A rise of the band energies, in frames of the detector.
struct RoughEvent {
    std::int64_t first = 0;    ///< where the earliest rise that belongs to it begins
    std::int64_t main = 0;     ///< where its strongest rise begins
    double prominence = 0.0;   ///< score of the strongest rise over what the background reaches at times
    bool overshadowed = false; ///< a stronger event follows too closely for this one to be an event of its own
};

/// Feed frames' worth of samples; rough events come out a fixed time after they began.
///
/// Method: octave-band energies (OctaveBank, from 94 Hz at 48 kHz) in frames of about 1.3 ms, held against the greater
/// of the noise floor (NoiseFloor, which by then has heard `lag` of what follows) and the mean of the ten milliseconds
/// before. The score of a frame is the log likelihood ratio 'this band's variance has grown' for Gaussian samples,
/// added over the bands. Suction gurgles and talk never stands still: there the score itself runs high. It is therefore
/// held against the level that it exceeds in one frame of twenty of the 1.5 s around, which impacts, being short, do
/// not fill (steady Gaussian noise: about 2.3). Their ratio is the prominence; a local maximum of at least `threshold`
/// begins a rise. Rises within `joined` before a more prominent one belong to it (contacts of one tap), and are where
/// it begins if they reach `min_joined`; less prominent ones within `apart` after it are its tail, and those that
/// long before it are overshadowed. Fine for sounds with an attack; a sound that swells over more than some 15 ms may
/// pass unseen. Exact zeros ahead of the first sound, as from a device that is still waking up, are not taken for the
/// noise of the room.
class EventDetector {
public:
    struct Settings {
        double threshold = 3.0;      ///< least prominence
        double lag_s = 0.3;          ///< the noise floor used for a frame has heard this much of what follows
        double ahead_s = 0.15;       ///< the scores a frame is held against reach so far beyond it ...
        double around_s = 1.5;       ///< ... and over this much in all
        double joined_s = 0.040;     ///< contacts of one tap are no further apart than this
        double apart_s = 0.150;      ///< taps are no closer than this
        double floor_window_s = 1.5; ///< the noise floor is told from the energies of so long,
        double floor_quantile = 0.2; ///< of which this share is taken to be noise alone
        double min_joined = 8.0;     ///< a rise less prominent than this is as likely a gurgle as a first contact
    };
    EventDetector(SampleRate rate, const Settings& settings);

    [[nodiscard]] std::size_t frame_length() const { return bank_.frame_length(); }
    [[nodiscard]] double frames_per_second() const { return frames_per_second_; }
    /// When a frame of history() began, near enough for every octave: to within two frames.
    [[nodiscard]] Position time_of(std::int64_t frame) const;
    /// Events are settled at the latest this many frames after their main rise.
    [[nodiscard]] std::int64_t settling_frames() const { return lag_ + ahead_ + apart_ + 3; }

    /// Exactly one frame of samples. Returns the events settled by it, by time of their main rise.
    std::vector<RoughEvent> process(std::span<const float> frame);
    /// The events still open when the recording ends, judged with what was heard.
    std::vector<RoughEvent> finish();

    /// Band energies, lowest band (the remainder below the octaves) first, time-aligned between bands to within a
    /// frame.
    [[nodiscard]] const FrameHistory& history() const { return history_; }
    /// First frame of history() that is not exact silence; -1 before there is one.
    [[nodiscard]] std::int64_t sound_begins() const { return sound_begins_; }
    /// Noise floor per band at present, as in history().
    [[nodiscard]] std::span<const double> floor() const { return floor_.levels(); }

private:
    void align_into_history(std::span<const double> energies);
    void score_next();
    void look_at(std::int64_t frame);
    [[nodiscard]] double score(std::int64_t frame) const;
    [[nodiscard]] std::vector<RoughEvent> settle(std::int64_t now);

    Settings settings_;
    OctaveBank bank_;
    double frames_per_second_;
    std::int64_t lag_, ahead_, joined_, apart_;
    std::vector<std::size_t> shift_;   // frames by which each band is delayed to align with the lowest
    std::vector<double> half_freedom_; // of a two-frame energy, per band
    FrameHistory raw_;                 // not yet aligned
    FrameHistory history_;
    NoiseFloor floor_;
    std::int64_t sound_begins_ = -1;
    std::vector<double> coarse_;
    std::vector<double> energies_;
    FrameHistory scores_;
    double background_;       // what the score exceeds in one frame of twenty
    std::int64_t looked_ = 0; // frames looked at so far
    RankedValue ranked_;
    std::deque<RoughEvent> rises_;
};

} // namespace retap::dsp
