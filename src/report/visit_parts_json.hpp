// The parts of a visit as JSON. Part of visit_json; not for others.
#pragma once

#include "report/json.hpp"
#include "visit/visit.hpp"

#include <vector>

namespace retap::report {

/// Where something that was taken over was first written.
[[nodiscard]] Json inherited_json(const visit::Inherited& inherited);
[[nodiscard]] Json teeth_json(const std::vector<chart::Tooth>& teeth);
[[nodiscard]] Json look_json(const visit::Visit& visit, const visit::Look& look);
[[nodiscard]] Json warnings_json(const std::vector<visit::Said<visit::WarningNoted>>& warnings);
[[nodiscard]] Json decisions_json(const std::vector<visit::Said<visit::Decided>>& decisions);

} // namespace retap::report
