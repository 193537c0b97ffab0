// A visit as one HTML file that tells its story to somebody who was not there.
#pragma once

#include "chart/next_rules.hpp"
#include "compare/comparison.hpp"
#include "report/html_report.hpp"
#include "visit/visit.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::report {

/// The sound of a look: its first take for listening, and for a look after the work how it compares with the baseline.
struct LookSound {
    visit::LookName look;
    std::optional<Sound> sound;
    std::optional<compare::Comparison> comparison;
};

/// A self-contained HTML document (UTF-8): looks side by side, tooth charts, what changed, what is usually next,
/// sign-off with digest, tables of holds and marks, the sound of the latest look with plots, cautions. Prints on two A4
/// pages with up to three looks; more looks take more room.
[[nodiscard]] std::string visit_report(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                                       const ReportHeading& heading);

/// The same without the shell, for the chairside page. Links stand in for sounds, by look in the order of visit.looks.
[[nodiscard]] std::string visit_section(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                                        const std::vector<std::string>& links);

} // namespace retap::report
