#include "chart/situation.hpp"

#include <algorithm>
#include <utility>

namespace retap::chart {

std::string_view word(Feel feel) {
    switch (feel) {
    case Feel::not_asked:
        return "not asked";
    case Feel::comfortable:
        return "comfortable";
    case Feel::high:
        return "high";
    case Feel::other:
        break;
    }
    return "other";
}

std::optional<Feel> feel_from(std::string_view wanted) {
    for (const Feel feel : {Feel::not_asked, Feel::comfortable, Feel::high, Feel::other}) {
        if (wanted == word(feel)) {
            return feel;
        }
    }
    return std::nullopt;
}

namespace {

std::vector<std::string> missing(const LookCharts& charts, bool has_sound) {
    std::vector<std::string> lacks;
    if (!charts.holds) {
        lacks.emplace_back("the film holds");
    }
    if (!charts.marks || !charts.marks->has_stage(Stage::centric)) {
        lacks.emplace_back("the centric marks");
    }
    if (!has_sound) {
        lacks.emplace_back("the sound");
    }
    return lacks;
}

} // namespace

std::vector<std::string> Situation::missing_before() const {
    return missing(before, before_has_sound);
}

std::vector<std::string> Situation::missing_now() const {
    return missing(now, now_has_sound);
}

Assessment::Assessment(Situation of) : situation(std::move(of)) {
    changes = what_changed(situation.before, situation.now, situation.treated);
    if (situation.before.holds) {
        baseline_spread = spread_of(*situation.before.holds);
    }
    centric_settled = changes.holds_equal() && changes.centric_equal();
    all_equal = centric_settled && situation.sound == compare::Verdict::alike;
    looks_high = !changes.holds_lost_elsewhere.empty() ||
                 std::any_of(changes.treated.begin(), changes.treated.end(),
                             [](const TreatedTooth& treated) { return treated.heavier; });
    film_or_marks_differ =
        (changes.holds_compared && !changes.holds_equal()) || (changes.centric_compared && !changes.centric_equal());
}

} // namespace retap::chart
