// The short typed notation for charts.
//
//   holds   hold 17..14 24 25/35; slide 26; open 27; untestable 15
//   marks   centric 16 MP+ CF* DMR~ 26 MP-; working none; non-working 47 DB/in
//
// A chart is a list of groups. A group starts with a word (hold, slide, open, untestable, or h, s, o, u; centric,
// working, non-working, protrusive, or cen, work, non, pro) and runs to the next one. Spaces, commas, semicolons and
// line ends separate and mean nothing else; case does not matter. A leading "iso:" or "universal:" overrules the
// numbering that was passed in.
//
// Holds: a tooth stands for the pair with its namesake opposite (16 for 16/46); a pair is written upper/lower or
// lower/upper; a..b is every tooth from a to b along one arch. ISO numbers may be written 1.6. Untestable (or missing):
// film cannot be put there, as where a tooth is missing.
// Marks: a tooth is followed by the places marked on it: a spot (see place.hpp), with /in /out /mes /dis for an
// incline; then + for heavy or - for light, and * when it lies on the restoration, ~ when it lies beside it on the same
// tooth; neither: not said. A group of marks may be "none".
// "again" after a movement: centric was marked again over it. Without any group word the marks are centric. A place in
// a centric and in an eccentric group carries both.
#pragma once

#include "chart/holds.hpp"
#include "chart/marks.hpp"
#include "chart/tooth.hpp"
#include "error.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// A chart that cannot be read. The message has the fault, the line it is in and a caret under the character.
class NotationError : public InputError {
public:
    NotationError(std::string_view text, std::size_t at, const std::string& fault);
    [[nodiscard]] std::size_t at() const { return at_; }              ///< byte offset into the text
    [[nodiscard]] const std::string& fault() const { return fault_; } ///< the fault alone, one sentence

private:
    std::size_t at_;
    std::string fault_;
};

/// Throws NotationError.
[[nodiscard]] HoldChart read_holds(std::string_view text, Numbering numbering);
[[nodiscard]] MarkChart read_marks(std::string_view text, Numbering numbering);
/// Teeth alone: "16 17" or "14..16". At least one. Throws NotationError.
[[nodiscard]] std::vector<Tooth> read_teeth(std::string_view text, Numbering numbering);

/// The same chart in one canonical form, which reads back to an equal chart.
[[nodiscard]] std::string write_holds(const HoldChart& chart, Numbering numbering);
[[nodiscard]] std::string write_marks(const MarkChart& chart, Numbering numbering);
[[nodiscard]] std::string write_teeth(const std::vector<Tooth>& teeth, Numbering numbering);

} // namespace retap::chart
