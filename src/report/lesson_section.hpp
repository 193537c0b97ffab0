// The parts of a lesson that the handout and the chairside page share. No styles and no scripts of their own.
#pragma once

#include "report/lesson_page.hpp"

#include <string>
#include <vector>

namespace retap::report {

/// One sound with its name and what is heard. `link` is where a browser gets it.
[[nodiscard]] std::string lesson_player(const std::string& name, const std::string& caption, const std::string& link);

/// Words, sounds, what happened and what was measured, without a heading and without the task. One link per sound of
/// the lesson (asserted).
[[nodiscard]] std::string lesson_section(const HandoutLesson& entry, const std::vector<std::string>& links);

/// What the sound can and cannot tell, for the clinic; a section with a heading of level 2.
[[nodiscard]] std::string clinic_words_section(const bite::ClinicWords& words);

} // namespace retap::report
