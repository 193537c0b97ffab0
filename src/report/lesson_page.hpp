// The handout: all lessons as one HTML file with sounds, plots and a quiz inside. It works offline, and without scripts
// the answers can still be opened.
#pragma once

#include "bite/course.hpp"
#include "dsp/base/take.hpp"
#include "report/html_report.hpp"

#include <string>
#include <vector>

namespace retap::report {

/// A sound of a lesson as made, heard and encoded, in the order of Lesson::sounds.
struct HandoutSound {
    bite::TruthSummary truth;
    dsp::TakeAnalysis heard;
    Sound sound;
};

struct HandoutLesson {
    bite::Lesson lesson;
    std::vector<HandoutSound> sounds{}; ///< one per sound of the lesson (asserted)
    std::vector<Sound> task_sounds{};   ///< one per sound of the task (asserted)
};

[[nodiscard]] std::string lesson_page(const std::vector<HandoutLesson>& lessons, const bite::ClinicWords& words,
                                      const ReportHeading& heading);

} // namespace retap::report
