// The trials of a listening test: their sounds, and what Retap makes of the very same sounds.
#pragma once

#include "audio/sound_file.hpp"
#include "bite/lesson_bite.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace retap::lesson {

/// What the sounds of a test have in common.
struct TrialSettings {
    double speed_m_per_s = 0.05;
    std::uint64_t mouth = 32;
    int taps = 4; ///< in each sound
};

/// Two or three recordings, each with taps of its own, brought to the same RMS.
struct Trial {
    double height_um = 0.0;           ///< of the upper right first molar, in the odd one
    std::optional<std::size_t> odd{}; ///< which one; nothing when all are the same bite
    std::vector<audio::Sound> sounds{};
};

/// Three sounds, one of them odd; `number` (from 0) and `seed` decide which, and their taps.
[[nodiscard]] Trial odd_one_trial(double height_um, const TrialSettings& settings, std::uint64_t seed,
                                  std::size_t number);
/// Two sounds: of every two trials one has the same bite twice, in drawn order.
[[nodiscard]] Trial same_or_different_trial(double height_um, const TrialSettings& settings, std::uint64_t seed,
                                            std::size_t number);

/// All sounds of a trial in a row with a pause between them.
[[nodiscard]] audio::Sound in_a_row(const Trial& trial);
/// When each sound of that row begins, in seconds.
[[nodiscard]] std::vector<double> row_starts_s(const Trial& trial);

/// What Retap answers: the one least like the other two (nothing on a tie), or for two sounds whether its verdict is
/// `different`, with the likeness of the two.
struct RetapAnswer {
    bool right = false;
    bool says_different = false;
    double likeness = 0.0; ///< of two sounds
};
[[nodiscard]] RetapAnswer ask_retap(const Trial& trial);

} // namespace retap::lesson
