#include "compare/listening_threshold.hpp"

#include "compare/distributions.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <vector>

namespace retap::compare {

namespace {

// Few trials at levels that the answers chose: a plain interval of 0.95 held the truth of made listeners in 84 to 95 of
// 100 tests, one of 0.98 in 91 to 99.
constexpr double missed_share = 0.4;

struct Answers {
    double right = 0.0;
    double wrong = 0.0;
};

std::vector<double> steps(double low, double high, double factor) {
    std::vector<double> values;
    double value = low;
    while (value <= high * (1.0 + 1e-9)) {
        values.push_back(value);
        value *= factor;
    }
    return values;
}

double log_likelihood(const std::map<double, Answers>& by_level, double threshold, double steepness,
                      const ThresholdModel& model) {
    double sum = 0.0;
    for (const auto& [level, answers] : by_level) {
        const double p = chance_right(level, threshold, steepness, model);
        sum += answers.right * std::log(p) + answers.wrong * std::log1p(-p);
    }
    return sum;
}

} // namespace

double chance_right(double level, double threshold, double steepness, const ThresholdModel& model) {
    const double room = 1.0 - model.guess - model.lapse;
    const double at_threshold = -std::log1p(-(model.target - model.guess) / room);
    return model.guess + room * -std::expm1(-at_threshold * std::pow(level / threshold, steepness));
}

Threshold fit_threshold(std::span<const StaircaseTrial> trials, const ThresholdModel& model) {
    assert(model.guess > 0.0 && model.lapse > 0.0 && model.target > model.guess && model.target < 1.0 - model.lapse);
    if (trials.empty()) {
        return {};
    }
    std::map<double, Answers> by_level;
    for (const StaircaseTrial& trial : trials) {
        Answers& answers = by_level[trial.level];
        (trial.right ? answers.right : answers.wrong) += 1.0;
    }
    const std::vector<double> thresholds = steps(model.lowest, model.highest, 1.02);
    const std::vector<double> steepnesses = steps(0.7, 6.0, 1.15);
    std::vector<double> best_at(thresholds.size(), -std::numeric_limits<double>::infinity());
    std::size_t best = 0;
    double best_likelihood = best_at.front();
    Threshold found;
    for (std::size_t i = 0; i < thresholds.size(); ++i) {
        for (const double steepness : steepnesses) {
            const double likelihood = log_likelihood(by_level, thresholds[i], steepness, model);
            best_at[i] = std::max(best_at[i], likelihood);
            if (likelihood > best_likelihood) {
                best_likelihood = likelihood;
                best = i;
                found.steepness = steepness;
            }
        }
    }
    const double miss = missed_share * (1.0 - model.confidence);
    const double allowed = 0.5 * chi_squared_quantile(1.0 - miss, 1.0);
    std::size_t first = best;
    std::size_t last = best;
    for (std::size_t i = 0; i < thresholds.size(); ++i) {
        if (best_at[best] - best_at[i] <= allowed) {
            first = std::min(first, i);
            last = std::max(last, i);
        }
    }
    if (first > 0) {
        found.low = thresholds[first];
    }
    if (last + 1 < thresholds.size()) {
        found.high = thresholds[last];
    }
    if (best > 0 && best + 1 < thresholds.size()) {
        found.value = thresholds[best];
    }
    return found;
}

} // namespace retap::compare
