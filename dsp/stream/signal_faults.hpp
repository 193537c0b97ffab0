// Faults that show in the samples themselves: flat tops, holes, exact silence, blocks heard twice.
#pragma once

#include "dsp/base/units.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// A stretch of samples, from its first one.
struct SampleRun {
    Position begin{0.0};
    Length length{0.0};
};

/// Between which values samples lie.
struct SampleRange {
    float lowest = 0.0F;
    float highest = 0.0F;
    [[nodiscard]] double apart() const { return static_cast<double>(highest) - static_cast<double>(lowest); }
};

struct SignalFaults {
    std::size_t clipped_samples = 0;
    std::vector<SampleRun> clipped;  ///< the first 4096 of them
    std::vector<SampleRun> dropouts; ///< holes and repeated blocks; the first 4096 of them
    /// Part of what lies between the first sound and the last that is exact silence of 50 ms or more; 1 without sound.
    /// Silence ahead and behind does not count: devices wake up with it, and programs that cut sounds add it.
    double silent_share = 0.0;
};

/// Whether any of the runs overlaps from..to.
[[nodiscard]] bool any_within(std::span<const SampleRun> runs, Position from, Position to);

/// Watches one channel, fed in blocks of any size with the same result. Feed it what was recorded: resampling rounds
/// the flat tops and fills the holes with ringing, and then fewer of them are seen. Memory does not grow with time
/// beyond the listed runs.
///
/// Clipped: two samples or more in a row at or above 0.9995 of full scale; or three or more equal ones at the
/// largest value of the recording on that side (0.02 or more), next to a sample at least 0.2 % lower, which a recording
/// turned down after clipping shows and the round top of a low tone does not.
/// Hole: 16 exact zeros to 50 ms of them, with sound above -80 dBFS in the 16 samples on both sides; a hole in a
/// quieter background, or one with faded edges, is not seen.
/// Repeat: 32 samples above -80 dBFS equal to those one usual buffer length before (64 to 2048 samples), unless
/// they are periodic. Other lengths are not looked for.
class FaultWatch {
public:
    explicit FaultWatch(SampleRate rate);

    void feed(std::span<const float> block);
    /// Everything seen up to now, as if the recording ended here.
    [[nodiscard]] SignalFaults result() const;
    /// Of all samples up to now; nothing before the first.
    [[nodiscard]] std::optional<SampleRange> range() const { return count_ > 0 ? std::optional(range_) : std::nullopt; }

private:
    // Flat tops on one side; the other side is fed with the sign turned.
    class Rail {
    public:
        void push(float x, std::size_t at);
        /// Whether samples of which none is above `highest` would change nothing but the last one.
        [[nodiscard]] bool unmoved_by(float highest) const;
        /// Such samples.
        void pass(float last) { last_ = last; }
        void collect(SignalFaults& faults, std::size_t end) const;

    private:
        struct Runs {
            std::vector<SampleRun> list;
            std::size_t samples = 0;
            void add(std::size_t begin, std::size_t length);
        };
        [[nodiscard]] bool steep(float beside) const;

        float extreme_ = 0.0F;
        float before_ = 0.0F; ///< the sample before the present run
        float last_ = 0.0F;
        std::size_t equal_ = 0; ///< length of the present run at the extreme
        std::size_t full_ = 0;  ///< length of the present run at full scale
        Runs equal_runs_;
        Runs full_runs_;
    };

    static constexpr std::size_t history =
        8192; ///< power of two, above twice the longest buffer and the stretch compared
    static constexpr std::size_t edge = 16;

    [[nodiscard]] float past(std::size_t back) const { return past_[(count_ - back) & (history - 1)]; }
    [[nodiscard]] bool same_as(std::size_t lag) const;
    [[nodiscard]] bool recent_is_distinctive() const;
    void widen(float lowest, float highest);
    void watch_zeros(float x);
    void watch_repeats();
    void add_dropout(std::size_t begin, std::size_t length);

    std::size_t longest_hole_;
    std::size_t count_ = 0;
    SampleRange range_;
    std::vector<float> past_;
    Rail upper_;
    Rail lower_;
    std::size_t zeros_ = 0;           ///< length of the present run of zeros
    double edge_energy_before_ = 0.0; ///< of the samples before that run
    std::size_t hole_begin_ = 0;
    std::size_t hole_length_ = 0;
    std::size_t after_hole_ = 0; ///< samples since the hole, while its far edge is still to be judged
    double edge_energy_after_ = 0.0;
    std::size_t leading_ = 0; ///< zeros before the first sound
    std::size_t silent_ = 0;
    std::size_t quiet_until_ = 0; ///< no repeat is counted twice
    std::vector<SampleRun> dropouts_;
};

} // namespace retap::dsp
