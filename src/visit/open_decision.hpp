// What was decided and is still to be done.
#pragma once

#include "visit/visit.hpp"

#include <optional>

namespace retap::visit {

struct OpenDecision {
    Said<Decided> decision;
    LookName look; ///< that it was decided at
    /// Whether the patient was numb then; as noted last up to that look.
    std::optional<bool> numb;
};

/// The latest decision to wait or to adjust that nothing came of yet: no later decision, and nothing charted, recorded
/// or asked at a later look. A decision noted afterwards for a look that is no longer the last opens nothing. A
/// signature leaves open what is open.
[[nodiscard]] std::optional<OpenDecision> open_decision(const Visit& visit);

/// Whether the look is the last one of the visit that holds anything; true as well while none does.
[[nodiscard]] bool is_last(const Visit& visit, const LookName& look);

} // namespace retap::visit
