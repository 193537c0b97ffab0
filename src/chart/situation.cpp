#include "chart/situation.hpp"

#include <algorithm>
#include <array>
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

constexpr std::array<std::pair<std::string_view, Action>, 5> action_words = {{{"adjust", Action::adjust},
                                                                              {"leave", Action::leave},
                                                                              {"wait", Action::wait},
                                                                              {"finish", Action::finish},
                                                                              {"other", Action::other}}};

} // namespace

std::string_view word(Action action) {
    return action_words.at(static_cast<std::size_t>(action)).first;
}

std::optional<Action> action_from(std::string_view wanted) {
    for (const auto& [name, action] : action_words) {
        if (name == wanted) {
            return action;
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

namespace {

bool lacks_support(const TreatedTooth& treated) {
    return treated.after == Support::none && !treated.stop_beside && treated.before != Support::none;
}

/// Teeth of the chart with a centric mark on a guiding cusp itself and none on a supporting cusp, as in crossbite.
std::vector<Mark> guiding_without_supporting(const std::optional<MarkChart>& chart) {
    if (!chart) {
        return {};
    }
    const std::vector<Mark> centric = chart->of(Stage::centric);
    std::vector<Mark> found;
    for (const Mark& mark : centric) {
        const bool supported = std::any_of(centric.begin(), centric.end(), [&](const Mark& other) {
            return other.tooth == mark.tooth && role(other.tooth, other.place.spot) == CuspRole::supporting;
        });
        if (!mark.place.incline && role(mark.tooth, mark.place.spot) == CuspRole::guiding && !supported) {
            found.push_back(mark);
        }
    }
    return found;
}

bool was_there(const std::optional<MarkChart>& before, const Mark& now) {
    return before && std::any_of(before->marks.begin(), before->marks.end(), [&](const Mark& mark) {
               return mark.tooth == now.tooth && mark.place == now.place && mark.stage == now.stage &&
                      mark.weight >= now.weight;
           });
}

} // namespace

bool Assessment::treated(Tooth tooth) const {
    return std::find(situation.treated.begin(), situation.treated.end(), tooth) != situation.treated.end();
}

Assessment::Assessment(Situation of) : situation(std::move(of)) {
    const Situation& s = situation;
    changes = what_changed(s.before, s.now, s.treated, s.crossbite);
    if (s.before.holds) {
        baseline_spread = spread_of(*s.before.holds);
        baseline_left = left_to_test(*s.before.holds);
    }
    centric_settled = changes.holds_equal() && changes.centric_equal();
    all_equal = centric_settled && s.sound == compare::Verdict::alike;
    looks_high = !changes.holds_lost_elsewhere.empty() ||
                 std::any_of(changes.treated.begin(), changes.treated.end(),
                             [](const TreatedTooth& treated) { return treated.heavier; });
    looks_light = !looks_high && (!changes.holds_lost_on_treated.empty() ||
                                  std::any_of(changes.treated.begin(), changes.treated.end(), lacks_support));
    film_or_marks_differ =
        (changes.holds_compared && !changes.holds_equal()) || (changes.centric_compared && !changes.centric_equal());
    if (!s.crossbite.said()) {
        maybe_crossbite = guiding_without_supporting(s.now.marks ? s.now.marks : s.before.marks);
    }
    if (s.now.marks) {
        for (const Stage stage : {Stage::working, Stage::non_working, Stage::protrusive}) {
            for (const Mark& mark : eccentric_only(*s.now.marks, stage)) {
                const bool as_before = !treated(mark.tooth) && was_there(s.before.marks, mark);
                (as_before ? eccentric_as_before : eccentric_open).push_back(mark);
            }
        }
    }
}

} // namespace retap::chart
