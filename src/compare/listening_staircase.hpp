// The adaptive rule that finds how small a difference a listener still hears.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace retap::compare {

struct StaircaseSettings {
    double start = 200.0; ///< level of the first trial; clearly heard by nearly everybody
    double lowest = 1.0;  ///< the level never leaves these bounds
    double highest = 200.0;
    int down_after = 2;       ///< right answers in a row that make the next trial harder
    double coarse_step = 2.0; ///< factor until the second turn
    double fine_step = 1.414; ///< factor from there on
    int coarse_turns = 2;     ///< turns that only find the region and do not count
    int turns = 8;            ///< all turns after which it ends; coarse ones included
    std::size_t max_trials = 60;
};

struct StaircaseTrial {
    double level = 0.0;
    bool right = false;
};

/// Transformed up-down rule (Levitt H 1971, J Acoust Soc Am 49:467-477; from memory): harder after `down_after` right
/// answers in a row, easier after each wrong one, by factors, so that levels are evenly spaced in their logarithm.
/// Settles where a listener is right with probability target(): 0.7071 for two in a row, 0.7937 for three. Its estimate
/// is biased by up to a step where the listener's curve is shallow; fit_threshold() over all trials is the better one.
class Staircase {
public:
    /// Levels positive and ordered, factors above 1, counts positive (asserted).
    explicit Staircase(const StaircaseSettings& settings);

    [[nodiscard]] double level() const { return level_; }
    [[nodiscard]] bool finished() const;
    /// Notes the answer to a trial at level(). Not after the end (asserted).
    void answer(bool right);

    [[nodiscard]] const std::vector<StaircaseTrial>& trials() const { return trials_; }
    [[nodiscard]] const std::vector<double>& turns() const { return turns_; }
    /// Probability of a right answer where it settles.
    [[nodiscard]] double target() const;
    /// Geometric mean of the turns that count, an even number of them; nothing with fewer than two.
    [[nodiscard]] std::optional<double> estimate() const;

private:
    void move(bool harder);

    StaircaseSettings settings_;
    double level_;
    int right_in_a_row_ = 0;
    std::optional<bool> going_down_;
    std::vector<StaircaseTrial> trials_;
    std::vector<double> turns_;
};

} // namespace retap::compare
