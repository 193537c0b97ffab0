// A visit as one HTML file that tells its story to somebody who was not there.
#pragma once

#include "chart/next_rules.hpp"
#include "compare/comparison.hpp"
#include "report/html_report.hpp"
#include "visit/visit.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace retap::report {

/// The sound of a look: a take for listening, and how the look compares with the baseline.
struct LookSound {
    visit::LookName look;
    std::optional<Sound> sound;
    std::optional<compare::Comparison> comparison;
};

/// Ways to the takes of a visit, whoever keeps them. Each is called for looks that have takes only, `comparison` for
/// one that can be compared.
struct VisitTakes {
    std::function<std::vector<std::byte>(const visit::Look&)> flac; ///< of the take that stands for the look
    std::function<compare::Comparison(const visit::Look&)> comparison;
};

/// What visit_report takes for `sounds`: a take of each look, and a comparison of each that can have one: the latest is
/// told at length, the others are steps of the staircase.
[[nodiscard]] std::vector<LookSound> look_sounds(const visit::Visit& visit, const VisitTakes& takes);

/// `made_at` as entries note times ("2031-05-14T08:30:00Z").
[[nodiscard]] ReportHeading visit_heading(const visit::Visit& visit, const std::string& made_at,
                                          const std::string& program);

/// "2031-05-14 10:30 CEST" of a time as entries note it: local time, with its zone.
[[nodiscard]] std::string readable_time(const std::string& at);

/// What was decided and is still to be done (visit::open_decision), with when and by whom; empty when nothing is.
[[nodiscard]] std::string still_open(const visit::Visit& visit);

/// The tooth charts of the visit with their key; empty without any. With `ends` those of the baseline and of the latest
/// look that has one, as somebody reads who decides now.
enum class ChartsOf { all_looks, ends };
[[nodiscard]] std::string tooth_charts(const visit::Visit& visit, ChartsOf which);

/// A self-contained HTML document (UTF-8): looks side by side, tooth charts, what changed, what is usually next,
/// sign-off with digest, tables of holds and marks, the sound of the latest look with plots, cautions. Prints on two A4
/// pages with up to three looks; more looks take more room.
[[nodiscard]] std::string visit_report(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                                       const ReportHeading& heading);

/// The same without the shell, for the chairside page. Links stand in for sounds, by look in the order of visit.looks.
[[nodiscard]] std::string visit_section(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                                        const std::vector<std::string>& links);

} // namespace retap::report
