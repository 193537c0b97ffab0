// What shim film did between tooth pairs.
#pragma once

#include "chart/tooth.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// Film of about 8 um: "hold" means the gap is at most about 6 um, not that the teeth touch; drag at the edge of that
/// may read as a slide (Harper and Setchell 2002, Int J Prosthodont 15:347-352).
/// untestable: film cannot be put there, as where a tooth or its opponent is missing; it counts as no test.
enum class Film { hold, slide, open, untestable };
[[nodiscard]] std::string_view word(Film film);

/// An upper and a lower tooth that were tested against each other.
struct TeethPair {
    Tooth upper;
    Tooth lower;
    auto operator<=>(const TeethPair&) const = default;
    [[nodiscard]] bool has(Tooth tooth) const { return upper == tooth || lower == tooth; }
    [[nodiscard]] bool has_any(const std::vector<Tooth>& teeth) const;
};

/// The tooth with its namesake opposite, which it always meets in a regular arch.
[[nodiscard]] TeethPair pair_of(Tooth tooth);
/// Whether the two could meet in any mouth: one upper and one lower, on one side (or incisors across the midline), at
/// most two places apart.
[[nodiscard]] bool could_meet(Tooth a, Tooth b);
[[nodiscard]] std::string name(const TeethPair& pair, Numbering numbering); ///< "16/46"
[[nodiscard]] std::string list(const std::vector<TeethPair>& pairs, Numbering numbering);

/// Results by pair. A pair that is not in it was not looked at.
using HoldChart = std::map<TeethPair, Film>;
[[nodiscard]] std::optional<Film> result_of(const HoldChart& chart, const TeethPair& pair);

/// How the holds are spread, since load should rest on many teeth. A pair's side is its upper tooth's, its row (front
/// or back) as well.
struct HoldSpread {
    struct Count {
        int holds = 0;
        int tested = 0;
    };
    Count right;
    Count left;
    Count front;
    Count back;
    [[nodiscard]] Count total() const { return {right.holds + left.holds, right.tested + left.tested}; }
};
[[nodiscard]] HoldSpread spread_of(const HoldChart& chart);
/// The summary a supervisor looks at first: "7 of 9 tested pairs hold: 4 right, 3 left; 1 front, 6 back."
[[nodiscard]] std::string sentence(const HoldSpread& spread);

/// Common practice, no source: fewer than four holding pairs is little to rest a bite on. (About seven contacts a side
/// on the back teeth are usual, Korioth 1990, J Prosthet Dent 64:206-210; a hold is a stricter test than a contact.)
inline constexpr int few_holds_below = 4;
/// None of the tested pairs holds, or fewer than four do where at least four were tested or nothing is left to test.
/// With fewer tested, some of which hold, nothing can be said yet.
[[nodiscard]] bool few_holds(const HoldChart& chart);
/// The upper teeth that film has not been tried at, third molars aside: they are often missing. Load should rest on
/// both sides and on many teeth, so a baseline asks for all that can be tested (common practice, no source).
[[nodiscard]] std::vector<Tooth> left_to_test(const HoldChart& chart);
/// The side without a single hold, though tested, while the other side has some. Unequal sides are usual (Korioth 1990)
/// and are not called one-sided.
[[nodiscard]] std::optional<Side> side_without_holds(const HoldSpread& spread);

} // namespace retap::chart
