// What can be said of one mark: the cusp, the side, the movement, and what the letter rules make of it.
#pragma once

#include "chart/mnemonics.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

struct MarkNote {
    Mark mark;
    bool treated = false;
    Side side = Side::right; ///< the patient's, on which the mark lies
    std::optional<CuspRole> role{};
    bool crossbite = false;                       ///< the role is turned round
    bool stop = false;                            ///< carries the centric bite
    std::string movement{};                       ///< "sliding to the right": what the jaw did when it was left
    std::string where{};                          ///< "working side", "non-working side", "protrusion", "centric"
    std::vector<std::string_view> named_by{};     ///< letters of the rules that name its place
    std::vector<std::string_view> not_named_by{}; ///< the other rules for this movement
    std::string disputed{};                       ///< what schools dispute about it; empty for centric marks
    std::string sentence{}; ///< all of it in one, ending in what the rules say. Never says to remove anything.
};

[[nodiscard]] MarkNote note_of(const Mark& mark, bool treated, const Crossbite& crossbite, Numbering numbering);

} // namespace retap::chart
