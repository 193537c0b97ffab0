// A bite as a person sets it at the bench of the lessons, the take it makes, and what really happened in it.
#pragma once

#include "bite/change.hpp"
#include "bite/make_take.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace retap::bite {

/// The pair a permanent tooth belongs to, upper or lower, by its ISO 3950 number; nothing for third molars, which the
/// model has not, and for numbers that are no tooth. A lower tooth is taken with the upper one of the same name.
[[nodiscard]] std::optional<std::size_t> pair_of_tooth(int iso);

enum class LessonRoom : std::uint8_t {
    silent, ///< a tap stands 60 dB above the floor; nothing echoes
    quiet,  ///< 45 dB, and the faint tail of a treatment room
    busy    ///< 34 dB, the tail, suction and instruments put down
};

enum class ArchSide : std::uint8_t { right, left }; ///< the patient's

/// All premolars and molars of one side stand this much higher.
struct HighSide {
    ArchSide side = ArchSide::right;
    double height_um = 0.0;
};

/// Everything the bench can set. The default is a balanced bite tapped at 50 mm/s.
struct LessonBite {
    std::vector<HeightChange> heights{};
    std::optional<Slide> slide{};
    std::optional<HighSide> side{};
    double speed_m_per_s = 0.05; ///< of closing, at the first molars; 0.02 to 0.2
    Pickups pickups = Pickups::forehead;
    LessonRoom room = LessonRoom::quiet;
    int taps = 8;
    std::uint64_t seed = 32; ///< the mouth; this one lands within 0.2 ms and still meets with a tooth 200 um high
    std::uint64_t take = 1;  ///< which recording of it: its taps and its noise
    std::uint64_t seat = 0;  ///< how the pick-up sits
    double scatter = 1.0;    ///< of the taps, times what is usual; 0: every tap alike
};

/// The same mouth, effort, room and seat with nothing changed, in another recording when `take` says so.
[[nodiscard]] LessonBite balanced(LessonBite bite);

/// Makes the take, at 48 kHz. Level: a usual tap at 50 mm/s peaks at -22 dBFS, so that one at 200 mm/s does not clip.
/// Out of range speeds and pairs are asserted.
[[nodiscard]] Take make_lesson_take(const LessonBite& bite);

/// Height over speed: how much earlier a high spot meets, in milliseconds. Says nothing of how much the jaw is slowed
/// by the first contact, which makes the others later still.
[[nodiscard]] double expected_delay_ms(double height_um, double speed_m_per_s);

/// When one pair met, over the taps of a take.
struct PairTiming {
    std::size_t pair = 0;
    std::size_t taps = 0;    ///< in which it met at all
    double after_ms = 0.0;   ///< median, after the first contact of the tap
    double speed_mm_s = 0.0; ///< median, of its approach when it met
};

struct TruthSummary {
    std::vector<PairTiming> pairs{}; ///< by time
    /// Median over the taps, from the first contact to the last first meeting of a pair that matters: whose approach
    /// had a tenth or more of the fastest one's speed and came within 30 ms.
    double spread_ms = 0.0;
};
/// Empty, with a spread of 0, for a take without taps.
[[nodiscard]] TruthSummary summarise(const std::vector<TapTruth>& taps);

} // namespace retap::bite
