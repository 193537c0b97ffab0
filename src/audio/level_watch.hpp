// Follows how loud it is: for the meter, for "is it quiet now", and for what is said to the clinician.
#pragma once

#include "audio/sound_sink.hpp"

#include <cstddef>
#include <deque>
#include <span>
#include <vector>

namespace retap::audio {

/// Method: powers of 10 ms blocks above some 150 Hz (one pole), which takes off rumble and most of the hum; the noise
/// is the 20 % quantile of the last 3 s of them; a block is loud when it stands 10 dB above the noise and above -80
/// dBFS. Events may fill four fifths of the time before the noise is overestimated. Nothing is loud in the first 0.2 s.
/// Times count from the first sample and are those of block ends. Channels are averaged in power; peaks are the largest
/// of any channel.
class LevelWatch {
public:
    explicit LevelWatch(StreamFormat format);

    /// Any number of whole frames.
    void feed(std::span<const float> interleaved);

    [[nodiscard]] double noise_dbfs() const;
    /// Largest sample of the last 50 ms.
    [[nodiscard]] double peak_dbfs() const;
    /// Largest sample between two times, of the last 3 s; blocks that overlap count whole.
    [[nodiscard]] double peak_dbfs(double from_s, double to_s) const;
    /// End of the last loud block; 0 before the first.
    [[nodiscard]] double last_loud_s() const { return last_loud_s_; }
    /// End of the last block in which something may have begun to sound: a loud one or, before it is known what is
    /// loud, one above -50 dBFS. 0 before the first.
    [[nodiscard]] double last_rise_s() const { return last_rise_s_; }
    /// When the present or last burst began: loud blocks with less than 60 ms between them are one burst.
    [[nodiscard]] double burst_began_s() const { return burst_began_s_; }
    /// Share of loud blocks in the last `seconds` (up to 3 s).
    [[nodiscard]] double loud_share(double seconds) const;
    [[nodiscard]] double now_s() const { return static_cast<double>(blocks_) * block_s; }

    static constexpr double block_s = 0.010;

private:
    struct Block {
        double power = 0.0;
        float peak = 0.0F;
        bool loud = false;
    };
    void end_block();
    [[nodiscard]] double noise_power() const;

    std::size_t channels_;
    std::size_t block_frames_;
    double keep_;                ///< of the one-pole high-pass
    std::vector<double> before_; ///< the last frame, per channel
    std::vector<double> passed_; ///< and what the high-pass made of it
    std::size_t filled_ = 0;     ///< frames in the running block
    Block running_;
    std::deque<Block> recent_;
    mutable std::vector<double> sorted_;
    std::size_t blocks_ = 0;
    std::size_t sounding_ = 0; ///< blocks that were not digital silence
    double last_loud_s_ = 0.0;
    double last_rise_s_ = 0.0;
    double burst_began_s_ = 0.0;
};

} // namespace retap::audio
