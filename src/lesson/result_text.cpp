#include "lesson/result_text.hpp"

#include "report/wording.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

namespace retap::lesson {
namespace {

using compare::StaircaseTrial;
using compare::Threshold;
using report::Json;
using report::number;

std::size_t right_of(const std::vector<StaircaseTrial>& trials) {
    return static_cast<std::size_t>(
        std::count_if(trials.begin(), trials.end(), [](const StaircaseTrial& trial) { return trial.right; }));
}

std::size_t right_of(const compare::SameDifferentCounts& counts) {
    return counts.different_called + counts.same - counts.same_called_different;
}

std::string percent(double share) {
    return number(100.0 * share, 0) + " %";
}

std::string in_um_and_ms(double um, double speed_mm_s) {
    return number(um, 0) + "\u00A0\u00B5m (" + number(um / speed_mm_s, 2) + "\u00A0ms at " + number(speed_mm_s, 0) +
           "\u00A0mm/s)";
}

/// Lowest and highest height that was played; nothing without trials.
std::optional<std::pair<double, double>> played(const std::vector<StaircaseTrial>& trials) {
    if (trials.empty()) {
        return std::nullopt;
    }
    const auto [low, high] = std::ranges::minmax(trials, {}, &StaircaseTrial::level);
    return std::pair{low.level, high.level};
}

/// Why there is no threshold, in the heights that were played.
std::string none_found(const Threshold& fitted, const std::vector<StaircaseTrial>& trials) {
    const auto range = played(trials);
    if (!range) {
        return "not found";
    }
    const std::string um = "\u00A0\u00B5m";
    if (fitted.value && *fitted.value < range->first) {
        return "below " + number(range->first, 0) + um + ", the lowest that was played: no threshold found";
    }
    return "not below " + number(range->second, 0) + um + ": no threshold found";
}

std::string threshold_text(const Threshold& fitted, const std::vector<StaircaseTrial>& trials, double speed_mm_s) {
    const Threshold threshold = as_far_as_played(fitted, trials);
    if (!threshold.value) {
        return none_found(fitted, trials);
    }
    const std::string low = threshold.low ? number(*threshold.low, 0) : "not limited";
    const std::string high = threshold.high ? number(*threshold.high, 0) : "not limited";
    return in_um_and_ms(*threshold.value, speed_mm_s) + ", 95\u00A0% interval in \u00B5m: " + low + " to " + high;
}

Json or_null(const std::optional<double>& value, int decimals) {
    return value ? report::rounded(*value, decimals) : Json(nullptr);
}

Json threshold_json(const Threshold& threshold, double speed_mm_s) {
    const auto in_ms = [&](const std::optional<double>& um) {
        return um ? report::rounded(*um / speed_mm_s, 4) : Json(nullptr);
    };
    return {{"value_um", or_null(threshold.value, 2)}, {"low_um", or_null(threshold.low, 2)},
            {"high_um", or_null(threshold.high, 2)},   {"value_ms", in_ms(threshold.value)},
            {"low_ms", in_ms(threshold.low)},          {"high_ms", in_ms(threshold.high)}};
}

Json counts_json(const compare::SameDifferentCounts& counts) {
    return {{"different", counts.different},
            {"different_called", counts.different_called},
            {"same", counts.same},
            {"same_called_different", counts.same_called_different}};
}

std::string counts_text(const compare::SameDifferentCounts& counts) {
    return "Called " + std::to_string(counts.different_called) + " of " + std::to_string(counts.different) +
           " different pairs different, and " + std::to_string(counts.same_called_different) + " of " +
           std::to_string(counts.same) + " same ones";
}

} // namespace

void count_answer(compare::SameDifferentCounts& counts, bool different, bool called_different) {
    const std::size_t called = called_different ? 1 : 0;
    if (different) {
        counts.different += 1;
        counts.different_called += called;
    } else {
        counts.same += 1;
        counts.same_called_different += called;
    }
}

Threshold as_far_as_played(Threshold threshold, const std::vector<StaircaseTrial>& trials) {
    const auto range = played(trials);
    const auto beyond = [&](const std::optional<double>& um) {
        return um && (!range || *um < range->first || *um > range->second);
    };
    for (auto* const one : {&threshold.value, &threshold.low, &threshold.high}) {
        if (beyond(*one)) {
            one->reset();
        }
    }
    return threshold;
}

ListeningResult kept(const OddOneResult& result) {
    const Threshold threshold = as_far_as_played(result.threshold, result.stairs.trials());
    return {.when = "",
            .learner = "",
            .way = "odd",
            .unit = "um",
            .trials = result.stairs.trials().size(),
            .right = right_of(result.stairs.trials()),
            .value = threshold.value,
            .low = threshold.low,
            .high = threshold.high,
            .retap_right = right_of(result.retap)};
}

ListeningResult kept(const PairsResult& result) {
    ListeningResult line{.when = "",
                         .learner = "",
                         .way = "same",
                         .unit = "d'",
                         .trials = result.learner.different + result.learner.same,
                         .right = right_of(result.learner),
                         .retap_right = right_of(result.retap)};
    if (result.sensitivity) {
        if (result.sensitivity->high) {
            line.value = result.sensitivity->value; // else only the lower bound means something
        }
        line.low = result.sensitivity->low;
        line.high = result.sensitivity->high;
    }
    return line;
}

ResultWords odd_one_words(const OddOneResult& result, double speed_mm_s) {
    const auto told = [&](const Threshold& threshold, const std::vector<StaircaseTrial>& trials) {
        return threshold_text(threshold, trials, speed_mm_s) + "; right in " + std::to_string(right_of(trials)) +
               " of " + std::to_string(trials.size()) + " trials.";
    };
    return {.question = "Which of three is odd: the height at which " + percent(result.stairs.target()) +
                        " of the answers are right (33 % by guessing).",
            .ear = told(result.threshold, result.stairs.trials()),
            .retap = told(result.retap_threshold, result.retap),
            .notes = {"The trials followed your answers, so that they tell most about your ear and less about Retap.",
                      "The sound of a tap gives no height in a patient: there the closing speed is not known."}};
}

ResultWords pairs_words(const PairsResult& result, double height_um, double speed_mm_s) {
    std::string sensitivity = "not known";
    if (result.sensitivity) {
        const compare::Sensitivity& d = *result.sensitivity;
        sensitivity = d.high
                          ? "d' = " + number(d.value, 2) + ", 95\u00A0% interval " + number(d.low, 2) + " to " +
                                number(*d.high, 2)
                          : "d' of " + number(d.low, 2) + " or more (95\u00A0%; too few mistakes to say how much more)";
    }
    return {.question = "Same or different, with a tooth high by " + in_um_and_ms(height_um, speed_mm_s) + ".",
            .ear = counts_text(result.learner) + ": " + sensitivity + " (0: cannot tell; 1: barely; 3: nearly always).",
            .retap = counts_text(result.retap) + ".",
            .notes = {"Retap's likeness was higher for the same bite in " + percent(result.retap_area) +
                      " of all couples of a same and a different pair (50 % by guessing)."}};
}

namespace {

std::string joined(const ResultWords& words) {
    std::string text =
        words.question + "\n  your ear: " + words.ear + "\n  Retap, on the very same sounds: " + words.retap + "\n";
    for (const std::string& note : words.notes) {
        text += note + "\n";
    }
    return text;
}

} // namespace

std::string odd_one_text(const OddOneResult& result, double speed_mm_s) {
    return joined(odd_one_words(result, speed_mm_s));
}

std::string pairs_text(const PairsResult& result, double height_um, double speed_mm_s) {
    return joined(pairs_words(result, height_um, speed_mm_s));
}

Json odd_one_json(const OddOneResult& result, double speed_mm_s) {
    Json trials = Json::array();
    for (std::size_t i = 0; i < result.stairs.trials().size(); ++i) {
        const StaircaseTrial& trial = result.stairs.trials()[i];
        trials.push_back({{"height_um", report::rounded(trial.level, 2)},
                          {"right", trial.right},
                          {"retap_right", result.retap[i].right}});
    }
    return {{"format", "retap.lesson-odd/1"},
            {"closing_speed_mm_s", report::rounded(speed_mm_s, 2)},
            {"target", report::rounded(result.stairs.target(), 4)},
            {"threshold", threshold_json(as_far_as_played(result.threshold, result.stairs.trials()), speed_mm_s)},
            {"by_turns_um", or_null(result.stairs.estimate(), 2)},
            {"retap_threshold", threshold_json(as_far_as_played(result.retap_threshold, result.retap), speed_mm_s)},
            {"trials", std::move(trials)}};
}

Json pairs_json(const PairsResult& result, double height_um, double speed_mm_s) {
    Json sensitivity = nullptr;
    if (result.sensitivity) {
        const auto value = result.sensitivity->high ? std::optional(result.sensitivity->value) : std::nullopt;
        sensitivity = {{"value", or_null(value, 2)},
                       {"low", report::rounded(result.sensitivity->low, 2)},
                       {"high", or_null(result.sensitivity->high, 2)}};
    }
    return {{"format", "retap.lesson-same/1"},
            {"closing_speed_mm_s", report::rounded(speed_mm_s, 2)},
            {"height_um", report::rounded(height_um, 2)},
            {"learner", counts_json(result.learner)},
            {"sensitivity", std::move(sensitivity)},
            {"retap", counts_json(result.retap)},
            {"retap_area", report::rounded(result.retap_area, 4)}};
}

} // namespace retap::lesson
