// A guided lesson with its sounds made, heard and encoded.
#pragma once

#include "audio/sound_file.hpp"
#include "bite/course.hpp"
#include "report/lesson_page.hpp"

#include <cstdint>
#include <string>

namespace retap::lesson {

/// The bytes of a FLAC file.
[[nodiscard]] std::string flac_of(const audio::Sound& sound);

/// The lesson as the handout shows it: short takes, so that a page of all lessons stays at a few megabytes.
[[nodiscard]] report::HandoutLesson handout_lesson(int number, std::uint64_t task_seed);

} // namespace retap::lesson
