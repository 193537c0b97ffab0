// Decides what of a recording is kept: the sound around the taps, and no talk.
#pragma once

#include "audio/sound_sink.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace retap::audio {

/// Receives what is kept. Positions count the frames received since the start of listening; a jump in them means that
/// something in between was not kept.
class KeptSound {
public:
    KeptSound() = default;
    KeptSound(const KeptSound&) = delete;
    KeptSound& operator=(const KeptSound&) = delete;
    virtual ~KeptSound() = default;

    virtual void samples(std::uint64_t position, std::span<const float> interleaved) = 0;
    virtual void gap(std::uint64_t position, std::uint64_t lost_frames) = 0;
};

struct KeeperSettings {
    double before_s = 0.5; ///< kept before every tap
    double after_s = 0.5;  ///< and after it
    /// A tap must be reported within this time of its onset, or part of what is before it is gone.
    double decision_s = 1.0;
    bool keep_all = false;
};

/// Holds back what is undecided and passes on what is near a tap, at once when that is known: after a tap, sound is
/// passed on as it comes until after_s is over. What is not near a tap or a rise is forgotten, at the latest before_s +
/// decision_s after it was heard. Memory is bounded by those two times.
class Keeper : public SoundSink {
public:
    Keeper(StreamFormat format, KeeperSettings settings, KeptSound& out);

    void block(std::span<const float> interleaved) override;
    void gap(std::uint64_t lost_frames) override;
    /// A tap was found that began `onset_s` after the start of listening.
    void tap_at(double onset_s);
    /// Something began to sound that may prove to be a tap, and so may what came before it and is undecided still:
    /// passes on all of that, and what follows as after a tap.
    void rise_at(double onset_s);

    /// Frames received so far.
    [[nodiscard]] std::uint64_t position() const { return position_; }

private:
    struct HeldGap {
        std::uint64_t position = 0;
        std::uint64_t lost_frames = 0;
    };
    void pass_held(std::uint64_t from, std::uint64_t to);
    void forget_before(std::uint64_t position);
    [[nodiscard]] std::uint64_t frames_of(double seconds) const;

    StreamFormat format_;
    KeeperSettings settings_;
    KeptSound& out_;
    std::vector<float> held_; ///< the frames from held_from_ up to position_
    std::vector<HeldGap> held_gaps_;
    std::uint64_t held_from_ = 0;
    std::uint64_t position_ = 0;
    std::uint64_t keep_until_ = 0;
};

} // namespace retap::audio
