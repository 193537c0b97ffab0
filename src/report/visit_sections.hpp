// The parts of the visit report. Part of visit_report; not for others.
#pragma once

#include "report/visit_report.hpp"

#include <string>
#include <vector>

namespace retap::report {

/// "before", "after", "after, 2nd look", as a heading.
[[nodiscard]] std::string look_heading(const visit::LookName& name);

/// One column per look: when, film, marks, sound, patient, what changed, decision.
[[nodiscard]] std::string looks_table(const visit::Visit& visit);
/// Every tested pair and every mark by look.
[[nodiscard]] std::string holds_and_marks_tables(const visit::Visit& visit);
[[nodiscard]] std::string next_section(const visit::Visit& visit, std::optional<chart::SoundSays> latest_sound);
[[nodiscard]] std::string sign_off(const visit::Visit& visit);
/// Listening for every look, and the comparison of the latest one that has one.
[[nodiscard]] std::string sound_section(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                                        const std::vector<std::string>& links);

} // namespace retap::report
