// The sounds of the lessons: made, slowed, measured and matched.
#pragma once

#include "audio/sound_file.hpp"
#include "bite/lesson_bite.hpp"
#include "dsp/base/take.hpp"

#include <string>
#include <vector>

namespace retap::lesson {

[[nodiscard]] audio::Sound sound_of(const bite::Take& take);

/// A made take with what Retap measures in it.
struct LessonTake {
    bite::TruthSummary truth;
    audio::Sound sound;
    dsp::TakeAnalysis heard;
};
[[nodiscard]] LessonTake make_and_hear(const bite::LessonBite& bite, const std::string& name);

struct SlowMotion {
    double factor = 1.0; ///< 1 to 64: so many times as long
    bool keep_pitch = false;
};
/// For listening only. Without keep_pitch everything sounds lower by the factor, as a tape run slower.
[[nodiscard]] audio::Sound slowed(const audio::Sound& sound, const SlowMotion& slow);

/// Brings all sounds to the same RMS over their whole length, so that loudness gives nothing away; nothing passes full
/// scale afterwards. Sounds must not be silent (asserted).
void match_levels(std::vector<audio::Sound>& sounds);

} // namespace retap::lesson
