// How the looks of a visit come down to 'as before': likeness and lead by look, with the film holds under them.
#pragma once

#include "compare/comparison.hpp"
#include "compare/evidence.hpp"
#include "visit/visit.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace retap::report {

struct HoldCount {
    int holds = 0;
    int tested = 0;
};

/// One look after the work, or the baseline, which has neither likeness nor lead.
struct StairStep {
    std::string title;
    std::optional<compare::Likeness> likeness; ///< nothing when there is none to tell
    std::optional<compare::Verdict> verdict;
    std::optional<double> lead_change_ms; ///< by how much more the first sound leads than it did
    bool lead_as_before = false;          ///< that change is within the tolerance
    std::optional<HoldCount> film;
};

/// From this likeness on a step lies in the band of 'as before': that of a sum at the limit up to which the verdict may
/// be alike. The verdict asks the whole interval to lie there, so it is the sign of a look and not its place.
[[nodiscard]] double as_before_from(const compare::EvidenceSettings& settings = {});

/// Of the looks that have a sound or film, by time; `comparison` is asked for each look after the work that was
/// compared.
[[nodiscard]] std::vector<StairStep>
stair_steps(const visit::Visit& visit,
            const std::function<std::optional<compare::Comparison>(const visit::Look&)>& comparison);

/// The drawing, from top (nothing alike) down to the band. Empty with fewer than two steps, and without a likeness.
[[nodiscard]] std::string staircase(const std::vector<StairStep>& steps);

} // namespace retap::report
