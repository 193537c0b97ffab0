// What is to be done with the visits of the store, for the start page.
#pragma once

#include "chairside/clock_words.hpp"
#include "report/json.hpp"
#include "visit/store.hpp"

namespace retap::chairside {

/// `toRecheck`: visits that wait for another day, the longest first. `toSign`: unsigned ones that hold something and
/// are of an earlier day, or whose work was looked at, the oldest first. `today`: those opened today, the newest first.
/// A visit can be in more than one. Each is a line as in visits_json. `now` is in the local time zone's today.
[[nodiscard]] report::Json worklist_json(visit::VisitStore& store, Moment now);

/// The newest visits, at most 200; those with `label` somewhere in their label when it is not empty.
[[nodiscard]] report::Json visits_json(visit::VisitStore& store, const std::string& label, Moment now);

} // namespace retap::chairside
