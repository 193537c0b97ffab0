// Invented patients whose film and paper are charted in a lesson.
#pragma once

#include "chart/situation.hpp"

#include <string>

namespace retap::lesson {

inline constexpr int chart_patient_count = 8;

/// What was found before and after the work, all of it invented. The sound and what the patient says are part of the
/// situation; the charts are what the learner is shown as a drawing.
struct ChartPatient {
    std::string work; ///< "a filling", "a crown"
    chart::Situation situation;
};

/// `number` from 1 to chart_patient_count (asserted). Mirrored: the same mouth with left and right exchanged, so that a
/// patient who was charted once can be charted again.
[[nodiscard]] ChartPatient chart_patient(int number, bool mirrored);

} // namespace retap::lesson
