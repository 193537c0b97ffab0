// What the visits of many people come to, for who looks after their teaching.
#pragma once

#include "visit/store.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace retap::visit {

/// So many of so many. The interval is Wilson's score interval at 95 % (Wilson 1927, J Am Stat Assoc 22:209-212), which
/// stays between 0 and 1 and is honest for small numbers; nothing of nothing.
struct Share {
    int yes = 0;
    int of = 0;
    [[nodiscard]] std::optional<std::pair<double, double>> interval() const;
};

/// Below so many, a share says next to nothing about a person: its interval is wider than half of everything (0 to 1)
/// where it lies in the middle.
inline constexpr int small_number = 12;

/// One worker in one term. What a share counts:
struct CohortRow {
    std::string label; ///< pseudonym, or the name
    std::string term;  ///< half of a year, by the day that a visit was opened: "2031-1", "2031-2"
    int visits = 0;
    Share complete;    ///< visits with film holds and a take before, and both and a comparison at the latest look
    Share holds_kept;  ///< pairs that held before and were tested at the latest look: those that still hold
    Share as_before;   ///< visits that were compared: those whose sound was alike at last
    int different = 0; ///< those whose sound was different at last
    int unclear = 0;
    std::optional<double> adjustments; ///< middle of: looks after the first `after` until the first that was alike
    Share rechecks_kept;               ///< visits that were to be seen again: those that another visit continues
};

struct CohortOptions {
    bool names = false; ///< instead of pseudonyms
};

/// A name that does not say who it is at a glance: "P-" and six digits of the SHA-256 of the worker's name. It is the
/// same in every term and store. Who knows the names can work out which is whose.
[[nodiscard]] std::string pseudonym(const std::string& worker);

/// By label, then by term; no order of merit. Reads every visit that the filter lets through.
[[nodiscard]] std::vector<CohortRow> cohort(VisitStore& store, const VisitFilter& filter, const CohortOptions& options);

} // namespace retap::visit
