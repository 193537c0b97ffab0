// One comparison of two takes, by Retap and by its rivals, and what many of them add up to.
#pragma once

#include "compare/comparison.hpp"
#include "validate/rivals.hpp"
#include "validate/simulated.hpp"
#include "validate/take_truth.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace retap::validate {

/// Retap first, then the rivals, then what the true contact times would tell, without and with the teeth.
inline constexpr std::size_t measure_count = rival_count + 3;
[[nodiscard]] std::string_view measure_name(std::size_t measure);

struct PairResult {
    Family family{};
    std::uint64_t patient = 0;
    std::size_t condition = 0; ///< index into `conditions`
    double likeness = 0.0;
    double likeness_low = 0.0;
    double likeness_high = 0.0;
    compare::Verdict verdict = compare::Verdict::unclear;
    std::array<double, measure_count> distance{};       ///< larger is less alike; Retap's is 100 minus the likeness
    std::vector<compare::MeasureComparison> measures{}; ///< as the comparison shows them
    std::array<bool, 2> fit{};                          ///< the first take before, and after
    std::array<double, 2> snr_db{};
    std::array<std::optional<double>, 2> onset_bias_ms{};
    std::array<TakeTruth, 2> truth{};
};

/// Compares through the public entry, as the command does; every take of a side counts for Retap, the first alone for
/// the rivals and for what is true.
[[nodiscard]] PairResult judge(const Family& family, std::size_t condition, std::span<const HeardTake> before,
                               std::span<const HeardTake> after);

/// Each family that there are pairs of, in their order.
[[nodiscard]] std::vector<Family> families_of(std::span<const PairResult> pairs);

/// A share with its 95 % interval (Wilson 1927, J Am Stat Assoc 22:209-212; form from memory).
struct Share {
    double hits = 0.0;
    double of = 0.0;
    double value = 0.0;
    double low = 0.0;
    double high = 1.0;
};
[[nodiscard]] Share share(double hits, double of);

/// Area under the ROC curve of one measure: the unchanged pairs of a family against those of one condition.
struct Area {
    double value = 0.5;
    double low = 0.0; ///< 95 %, Hanley and McNeil 1982; too narrow near an area of 1
    double high = 1.0;
};
[[nodiscard]] Area area(std::span<const PairResult> pairs, const Family& family, std::string_view condition,
                        std::size_t measure);

/// How many pairs of a condition got a verdict.
[[nodiscard]] Share verdict_share(std::span<const PairResult> pairs, const Family& family, std::string_view condition,
                                  compare::Verdict verdict);

/// Of the pairs whose likeness lies in [low, high), how many were unchanged, over an even mixture: half of it
/// unchanged, half changed, the changed ones in equal parts 15, 25, 50, 100 and 200 um high.
struct Band {
    double low = 0.0;
    double high = 0.0;
    std::size_t pairs = 0;       ///< really there
    double unchanged = 0.0;      ///< share, after weighting; 0 when there are no pairs
    double unchanged_low = 0.0;  ///< 95 %, from as many pairs as the weights are worth (Kish)
    double unchanged_high = 1.0; ///<
};
[[nodiscard]] std::vector<Band> calibration(std::span<const PairResult> pairs, const Family& family);

} // namespace retap::validate
