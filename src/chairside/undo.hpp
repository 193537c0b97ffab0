// Taking back the last thing entered. Nothing is removed: what was there before is entered again as a correction.
#pragma once

#include "visit/visit.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace retap::chairside {

/// The reason that stands in entries made by undo, by which further undo steps know them.
inline constexpr std::string_view undo_reason = "taken back on the page";

/// What undo would do now.
struct UndoStep {
    std::string words; ///< "holds of after", for the button
    /// Entered to take the last step back. Its stamp is the caller's to fill in.
    visit::NewEntry entry;
    /// Set when a withdrawn take comes back: its content is that of this earlier entry.
    std::optional<int> take_again;
};

/// Steps are charts, takes, feelings, decisions, details and withdrawals that were entered by hand; comparisons follow
/// from takes and are no steps. Undone steps are passed over, so that undo goes further back each time; a withdrawal is
/// undone by entering the same again. Nothing when the visit is signed or nothing is left but its opening.
[[nodiscard]] std::optional<UndoStep> undo_of(const visit::Visit& visit);

/// "Before", "After", "After 2", "Recheck": what a look is called on the page.
[[nodiscard]] std::string title_of(const visit::LookName& name);

} // namespace retap::chairside
