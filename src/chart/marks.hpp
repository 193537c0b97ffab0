// What marking paper left on the teeth.
#pragma once

#include "chart/place.hpp"
#include "chart/tooth.hpp"

#include <compare>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// centric: closing straight. The others are eccentric: sliding to the side of the marked tooth (working), to the other
/// side (non_working), or forward (protrusive).
enum class Stage { centric, working, non_working, protrusive };
[[nodiscard]] std::string_view word(Stage stage); ///< "centric", "working", "non-working", "protrusive"

/// How the mark looks beside the others. Never a load: mark size does not follow load (Carey 2007, Open Dent J 1:1-7).
enum class Weight { light, even, heavy };
[[nodiscard]] std::string_view word(Weight weight);

/// After the work, whether a mark on a treated tooth lies on the restoration or beside it. Before the work, and on
/// other teeth, `restoration` is an old filling. Not said is not assumed: it is asked.
enum class Where { not_said, restoration, beside };
[[nodiscard]] std::string_view word(Where where); ///< "not said", "restoration", "beside"

struct Mark {
    Tooth tooth;
    Place place;
    Stage stage = Stage::centric;
    Weight weight = Weight::even;
    Where where = Where::not_said;
    auto operator<=>(const Mark&) const = default;
    [[nodiscard]] bool on_restoration() const { return where == Where::restoration; }
};
/// A centric mark that carries the bite: on a supporting cusp, a fossa or a marginal ridge (on front teeth wherever it
/// is), and not on an incline. A guiding cusp has none.
[[nodiscard]] bool is_stop(const Mark& mark, const Crossbite& crossbite = {});
[[nodiscard]] std::string plain_name(const Mark& mark, Numbering numbering); ///< "central fossa of 16"
/// "central fossa of 16 and palatal cusp of 24".
[[nodiscard]] std::string list(const std::vector<Mark>& marks, Numbering numbering);

/// The marks of one look, and which stages were marked at all: paper that left nothing is a finding, paper that was not
/// used is none. At most one mark per place and stage.
struct MarkChart {
    std::set<Stage> stages;
    std::vector<Mark> marks;    ///< sorted by tooth, place, stage
    bool centric_again = false; ///< centric was marked again over the eccentric colours
    bool operator==(const MarkChart&) const = default;

    [[nodiscard]] bool has_stage(Stage stage) const { return stages.contains(stage); }
    [[nodiscard]] bool has_eccentric() const;
    [[nodiscard]] std::vector<Mark> of(Stage stage) const;
};

/// Places that carry a centric and an eccentric mark; the centric one of each.
[[nodiscard]] std::vector<Mark> both_stages(const MarkChart& chart);
/// Marks of an eccentric stage on back teeth whose place carries no centric mark: what may be an interference, on an
/// incline, a cusp, a ridge or in a fossa. Front teeth guide the jaw in these movements, and their marks are what is
/// usual (common practice, no source).
[[nodiscard]] std::vector<Mark> eccentric_only(const MarkChart& chart, Stage stage);
/// Centric marks heavier than the middle of the other centric marks; a single heavy mark with no other to compare it
/// with counts as well.
[[nodiscard]] std::vector<Mark> heavier_than_the_rest(const MarkChart& chart);

} // namespace retap::chart
