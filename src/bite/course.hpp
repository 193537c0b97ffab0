// The guided lessons: what each plays, asks and answers. Sounds and answers come from the bite model, so that the right
// answer is what really happened.
#pragma once

#include "bite/lesson_bite.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace retap::bite {

struct LessonSound {
    std::string name;    ///< short and fit for a file name: "balanced", "A"
    std::string caption; ///< what is heard; for the sounds of a task, nothing that gives it away
    LessonBite bite{};
};

/// A question about the task's sounds.
struct LessonTask {
    std::string question;
    std::vector<LessonSound> sounds{};  ///< named A, B, ..
    std::vector<std::string> choices{}; ///< two or more
    std::size_t right = 0;              ///< index into choices
    std::string because;                ///< said after the answer
};

struct Lesson {
    int number = 0; ///< from 1
    std::string title;
    std::vector<std::string> words{}; ///< paragraphs
    std::vector<LessonSound> sounds{};
    LessonTask task;
};

inline constexpr int lesson_count = 7;

/// Lesson `number` (1 to lesson_count, asserted). `seed` decides the order of the sounds in the task and their taps;
/// the same seed gives the same lesson.
[[nodiscard]] Lesson lesson(int number, std::uint64_t seed);

/// What the sound of a tap can and cannot tell, for the end of a course.
struct ClinicWords {
    std::vector<std::string> can{};
    std::vector<std::string> cannot{};
};
[[nodiscard]] ClinicWords clinic_words();

} // namespace retap::bite
