// The results of a listening test, as text, JSON and a line to keep.
#pragma once

#include "compare/listening_sensitivity.hpp"
#include "compare/listening_staircase.hpp"
#include "compare/listening_threshold.hpp"
#include "lesson/results.hpp"
#include "report/json.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::lesson {

/// Which of three is odd: levels are micrometres.
struct OddOneResult {
    compare::Staircase stairs;
    compare::Threshold threshold;
    std::vector<compare::StaircaseTrial> retap{}; ///< Retap's answers to the same trials
    compare::Threshold retap_threshold{};
};

/// Same or different at one height.
struct PairsResult {
    compare::SameDifferentCounts learner{};
    compare::SameDifferentCounts retap{}; ///< a verdict of `different` counts as said so, everything else as not
    std::optional<compare::Sensitivity> sensitivity{};
    double retap_area = 0.5; ///< how often an unchanged pair has the higher likeness of two
};

void count_answer(compare::SameDifferentCounts& counts, bool different, bool called_different);

/// A threshold as far as the trials can tell it: what lies beyond the highest or the lowest height that was played was
/// not heard and is no finding; such a value is left out, and such a bound is open.
[[nodiscard]] compare::Threshold as_far_as_played(compare::Threshold threshold,
                                                  const std::vector<compare::StaircaseTrial>& trials);

[[nodiscard]] ListeningResult kept(const OddOneResult& result);
[[nodiscard]] ListeningResult kept(const PairsResult& result);

/// A result in sentences.
struct ResultWords {
    std::string question; ///< what was asked
    std::string ear;      ///< what the learner reached
    std::string retap;    ///< what Retap reached on the very same sounds
    std::vector<std::string> notes{};
};
[[nodiscard]] ResultWords odd_one_words(const OddOneResult& result, double speed_mm_s);
[[nodiscard]] ResultWords pairs_words(const PairsResult& result, double height_um, double speed_mm_s);

[[nodiscard]] std::string odd_one_text(const OddOneResult& result, double speed_mm_s);
[[nodiscard]] std::string pairs_text(const PairsResult& result, double height_um, double speed_mm_s);

/// retap.lesson-odd/1 and retap.lesson-same/1
[[nodiscard]] report::Json odd_one_json(const OddOneResult& result, double speed_mm_s);
[[nodiscard]] report::Json pairs_json(const PairsResult& result, double height_um, double speed_mm_s);

} // namespace retap::lesson
