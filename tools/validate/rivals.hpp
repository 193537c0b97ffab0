// The general-purpose measures that Retap is judged beside, computed on the taps it found in the same takes.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/landing/energy_profile.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace retap::validate {

inline constexpr std::size_t rival_count = 6;
inline constexpr std::array<std::string_view, rival_count> rival_names{
    "distance of 13 MFCCs",         "third-octave RMS difference",        "1 - peak cross-correlation",
    "difference of sound duration", "first arrival to 2 % of the energy", "energy profile in three bands"};

/// What the rivals keep of a take: means or medians over its usable taps.
struct RivalFeatures {
    std::vector<double> mfcc{};
    std::vector<double> bands_db{};    ///< level removed
    std::vector<double> average_tap{}; ///< taps lined up on each other and added
    std::optional<double> duration_ms{};
    std::optional<double> first_arrival_ms{};
    std::vector<dsp::EnergyProfile> profiles{}; ///< of each tap
};
[[nodiscard]] RivalFeatures rival_features(const dsp::TakeAnalysis& take);

/// How far apart two takes are by each rival, in the order of rival_names; larger is less alike. Zero where a take has
/// nothing to go by: a rival that hears nothing sees no change.
[[nodiscard]] std::array<double, rival_count> rival_distances(const RivalFeatures& before, const RivalFeatures& after);

/// Highest normalised correlation of two sounds over shifts up to `shift` samples either way; 0 for silence.
[[nodiscard]] double peak_correlation(const std::vector<double>& a, const std::vector<double>& b, std::size_t shift);

} // namespace retap::validate
