// What is usually next: one table of rules, and the engine that reads it.
#pragma once

#include "chart/situation.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// A row of the table. Everything but the two functions is text that is printed as it stands.
struct Rule {
    std::string_view id;
    std::string_view when;
    std::string_view suggestion;
    std::string_view why;
    std::string_view defers_to;
    bool (*applies)(const Assessment&);
    /// What in this visit made it apply, as sentences; null when `when` says it all.
    std::vector<std::string> (*evidence)(const Assessment&, Numbering) = nullptr;
};

/// In order of priority. Guidance only: what touches tooth or restoration is put as a question to the supervisor.
[[nodiscard]] std::span<const Rule> next_rules();

/// A rule that applies, with what made it apply.
struct Advice {
    const Rule* rule = nullptr;
    std::vector<std::string> evidence;
};

/// Every rule that applies, most pressing first. May be empty: then nothing in the table fits and the supervisor
/// decides.
[[nodiscard]] std::vector<Advice> next_steps(const Assessment& assessment, Numbering numbering);

} // namespace retap::chart
