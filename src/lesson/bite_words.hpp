// A bench's bite in words, and from words.
#pragma once

#include "bite/lesson_bite.hpp"
#include "chart/tooth.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace retap::lesson {

/// What the bench lets be set.
struct BenchRange {
    double lowest;
    double highest;
};
inline constexpr BenchRange bench_height_um{0.0, 200.0};
inline constexpr BenchRange bench_slide_um{50.0, 1500.0};
inline constexpr BenchRange bench_speed_mm_s{20.0, 200.0};
/// How far a tooth that is out of contact is said to be out when nothing else is said.
inline constexpr double usual_depth_um = 100.0;

/// "forehead", "left", "right", "both"
[[nodiscard]] std::optional<bite::Pickups> pickups_named(std::string_view word);
/// "silent", "quiet", "busy"
[[nodiscard]] std::optional<bite::LessonRoom> room_named(std::string_view word);
/// "left", "right"
[[nodiscard]] std::optional<bite::ArchSide> side_named(std::string_view word);

/// The upper tooth of a pair as numbered, or `chosen` where it is one of that pair: who chose 36 reads of 36.
[[nodiscard]] std::string tooth_of_pair(std::size_t pair, chart::Numbering numbering,
                                        std::optional<chart::Tooth> chosen = std::nullopt);
/// "16 high by 50 µm, closing at 50 mm/s".
[[nodiscard]] std::string bite_in_words(const bite::LessonBite& bite, chart::Numbering numbering,
                                        std::optional<chart::Tooth> chosen = std::nullopt);
/// "Tooth 16 meets early by height / closing speed = 100 µm / 50 mm/s = 2.00 ms." One line per high spot, each with its
/// newline; empty when nothing is high.
[[nodiscard]] std::string physics_in_words(const bite::LessonBite& bite, chart::Numbering numbering,
                                           std::optional<chart::Tooth> chosen = std::nullopt);

} // namespace retap::lesson
