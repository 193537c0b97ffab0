#include "chart/holds.hpp"

#include "chart/words.hpp"

#include <algorithm>
#include <cstdlib>

namespace retap::chart {

std::string_view word(Film film) {
    switch (film) {
    case Film::hold:
        return "hold";
    case Film::slide:
        return "slide";
    case Film::open:
        return "open";
    case Film::untestable:
        break;
    }
    return "untestable";
}

bool TeethPair::has_any(const std::vector<Tooth>& teeth) const {
    return std::any_of(teeth.begin(), teeth.end(), [this](Tooth tooth) { return has(tooth); });
}

TeethPair pair_of(Tooth tooth) {
    const Tooth other = namesake(tooth);
    return tooth.arch() == Arch::upper ? TeethPair{tooth, other} : TeethPair{other, tooth};
}

bool could_meet(Tooth a, Tooth b) {
    if (a.arch() == b.arch()) {
        return false;
    }
    if (a.side() == b.side()) {
        return std::abs(a.place() - b.place()) <= 2;
    }
    return a.kind() == ToothKind::incisor && b.kind() == ToothKind::incisor;
}

std::string name(const TeethPair& pair, Numbering numbering) {
    return name(pair.upper, numbering) + "/" + name(pair.lower, numbering);
}

std::string list(const std::vector<TeethPair>& pairs, Numbering numbering) {
    std::vector<std::string> names;
    names.reserve(pairs.size());
    for (const TeethPair& pair : pairs) {
        names.push_back(name(pair, numbering));
    }
    return names.empty() ? "no pair" : join_with_and(names);
}

std::optional<Film> result_of(const HoldChart& chart, const TeethPair& pair) {
    const auto found = chart.find(pair);
    return found == chart.end() ? std::nullopt : std::optional(found->second);
}

HoldSpread spread_of(const HoldChart& chart) {
    HoldSpread spread;
    for (const auto& [pair, film] : chart) {
        if (film == Film::untestable) {
            continue;
        }
        HoldSpread::Count& side = pair.upper.side() == Side::right ? spread.right : spread.left;
        HoldSpread::Count& row = pair.upper.front() ? spread.front : spread.back;
        for (HoldSpread::Count* count : {&side, &row}) {
            ++count->tested;
            count->holds += film == Film::hold ? 1 : 0;
        }
    }
    return spread;
}

std::string sentence(const HoldSpread& spread) {
    const auto all = spread.total();
    if (all.tested == 0) {
        return "No tooth pair was tested with film.";
    }
    const auto part = [](const HoldSpread::Count& count, const char* where) {
        return count.tested == 0 ? std::string(where) + " not tested" : std::to_string(count.holds) + " " + where;
    };
    const std::string pairs =
        all.tested == 1 ? std::string("1 tested pair ") : std::to_string(all.tested) + " tested pairs ";
    return std::to_string(all.holds) + " of " + pairs + (all.holds == 1 ? "holds: " : "hold: ") +
           part(spread.right, "right") + ", " + part(spread.left, "left") + "; " + part(spread.front, "front") + ", " +
           part(spread.back, "back") + ".";
}

bool few_holds(const HoldChart& chart) {
    const HoldSpread::Count all = spread_of(chart).total();
    const bool enough_tested = all.tested >= few_holds_below || left_to_test(chart).empty();
    return all.tested > 0 && (all.holds == 0 || (enough_tested && all.holds < few_holds_below));
}

std::vector<Tooth> left_to_test(const HoldChart& chart) {
    std::vector<Tooth> left = all_teeth();
    std::erase_if(left, [&](Tooth tooth) {
        const bool tried =
            std::any_of(chart.begin(), chart.end(), [&](const auto& tested) { return tested.first.upper == tooth; });
        return tooth.arch() == Arch::lower || tooth.place() == 8 || tried;
    });
    return left;
}

std::optional<Side> side_without_holds(const HoldSpread& spread) {
    if (spread.right.tested > 0 && spread.right.holds == 0 && spread.left.holds > 0) {
        return Side::right;
    }
    if (spread.left.tested > 0 && spread.left.holds == 0 && spread.right.holds > 0) {
        return Side::left;
    }
    return std::nullopt;
}

} // namespace retap::chart
