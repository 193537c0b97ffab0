#include "validate/ladder.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

namespace retap::validate {

namespace {

constexpr std::array<std::string_view, 4> steps{"100", "50", "25", "unchanged"};

using Steps = std::array<std::optional<double>, steps.size()>;

bool complete(const Steps& likeness) {
    return std::ranges::all_of(likeness, [](const auto& step) { return step.has_value(); });
}

} // namespace

std::vector<double> likenesses(std::span<const PairResult> pairs, const Family& family, std::string_view condition) {
    std::vector<double> found;
    for (const PairResult& pair : pairs) {
        if (pair.family == family && conditions.at(pair.condition).name == condition) {
            found.push_back(pair.likeness);
        }
    }
    std::ranges::sort(found);
    return found;
}

double quantile(std::span<const double> sorted, double part) {
    if (sorted.empty()) {
        return std::numeric_limits<double>::quiet_NaN();
    }
    const double at = part * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(at);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return std::lerp(sorted[below], sorted[above], at - static_cast<double>(below));
}

Share climbs(std::span<const PairResult> pairs, const Family& family) {
    std::map<std::uint64_t, Steps> patients;
    for (const PairResult& pair : pairs) {
        const auto step = std::ranges::find(steps, conditions.at(pair.condition).name);
        if (pair.family == family && step != steps.end()) {
            auto& likeness = patients[pair.patient].at(static_cast<std::size_t>(step - steps.begin()));
            likeness = likeness ? likeness : std::optional(pair.likeness);
        }
    }
    double hits = 0.0;
    double of = 0.0;
    for (const auto& [patient, likeness] : patients) {
        if (complete(likeness)) {
            of += 1.0;
            hits += std::ranges::is_sorted(likeness, std::less_equal<>()) ? 1.0 : 0.0; // ties are no rise
        }
    }
    return share(hits, of);
}

std::vector<double> onset_shifts_ms(std::span<const PairResult> pairs, const Family& family) {
    std::vector<double> shifts;
    for (const PairResult& pair : pairs) {
        const auto& [before, after] = pair.onset_bias_ms;
        if (pair.family == family && conditions.at(pair.condition).height_um == 0.0 && before && after) {
            shifts.push_back(std::abs(*after - *before));
        }
    }
    std::ranges::sort(shifts);
    return shifts;
}

} // namespace retap::validate
