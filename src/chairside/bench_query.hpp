// The bench of the lessons as the page asks for it: one bite per query, so that a bite has an address of its own.
#pragma once

#include "bite/lesson_bite.hpp"
#include "chairside/http_message.hpp"
#include "chart/tooth.hpp"
#include "lesson/bite_sounds.hpp"

#include <optional>

namespace retap::chairside {

/// Reads tooth (ISO 3950), height (micrometres, negative: out of contact), slide (micrometres, on the same tooth), side
/// and side_height, speed (mm/s), pickup, room and take. What is absent stays as in a balanced bite. Throws InputError
/// for what is no tooth, no such word, or outside of what the bench lets be set.
[[nodiscard]] bite::LessonBite bite_of_query(const HttpRequest& request);

/// The tooth that was chosen, which may be the lower one of its pair; nothing when none was.
[[nodiscard]] std::optional<chart::Tooth> tooth_of_query(const HttpRequest& request);

/// Reads slow (1 to 64) and keep_pitch (1: yes). Throws InputError.
[[nodiscard]] lesson::SlowMotion slow_motion_of_query(const HttpRequest& request);

} // namespace retap::chairside
