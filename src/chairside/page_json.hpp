// Visits as the page is told about them: see src/page/ts/model.ts, which names the same members.
#pragma once

#include "chairside/clock_words.hpp"
#include "report/json.hpp"
#include "visit/store.hpp"

#include <functional>
#include <memory>
#include <set>
#include <string>

namespace retap::chairside {

struct VisitView {
    Moment now;
    /// Looks that were begun on the page but hold nothing yet.
    std::set<visit::LookName> begun;
    /// Whether a take can be used, in words; called for each take.
    std::function<std::shared_ptr<const dsp::TakeAnalysis>(int entry, const std::string& name)> analysis;
    /// Whether a signed visit is what was signed.
    bool intact = true;
};

[[nodiscard]] report::Json visit_json(const visit::Visit& visit, const VisitView& view);
/// A line of the list.
[[nodiscard]] report::Json summary_json(const visit::VisitSummary& summary, Moment now);
/// The places of every tooth that can carry a mark, by ISO number.
[[nodiscard]] report::Json spots_json();

} // namespace retap::chairside
