#include "validate/onset_bias.hpp"

#include "dsp/base/statistics.hpp"
#include "validate/match_onsets.hpp"

#include <vector>

namespace retap::validate {

namespace {
constexpr double reach_s = 0.005;
} // namespace

std::optional<double> onset_bias_ms(const HeardTake& take) {
    std::vector<double> truth_s;
    for (const bite::TapTruth& tap : take.truth) {
        if (!tap.arrival_s.empty()) {
            truth_s.push_back(tap.arrival_s.front());
        }
    }
    std::vector<double> found_s;
    for (const dsp::Tap& tap : take.heard.taps) {
        if (tap.usable) {
            found_s.push_back(tap.onset_s);
        }
    }
    std::vector<double> errors_ms;
    for (const auto& [t, f] : match_onsets(truth_s, found_s, reach_s).pairs) {
        errors_ms.push_back(1e3 * (found_s[f] - truth_s[t]));
    }
    return errors_ms.empty() ? std::nullopt : std::optional(dsp::median(errors_ms));
}

} // namespace retap::validate
