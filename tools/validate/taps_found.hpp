// How well taps are found in the noise of a clinic.
#pragma once

#include "validate/simulated.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace retap::validate {

/// Peak of the patient's usual tap over the RMS of all that goes on during the taps.
inline constexpr std::array<double, 4> clinic_snr_db{30.0, 24.0, 18.0, 12.0};
inline constexpr double onset_reach_s = 0.025;

/// How often onsets were right in one take.
struct Found {
    std::size_t right = 0;
    std::size_t missed = 0;
    std::size_t extra = 0;
    [[nodiscard]] bool all_right() const { return missed == 0 && extra == 0; }
};

struct TapsResult {
    Family family{};
    std::uint64_t patient = 0;
    double snr_db = 0.0;
    std::string_view noise;
    Found retap{};
    /// Retap's extra ones: during the babble before the first tap, between taps, among the clunks after the last.
    std::array<std::size_t, 3> extra_before_among_after{};
    std::vector<double> onset_error_ms{}; ///< of Retap's taps that were right and usable: found minus true arrival
    std::optional<Found> aubio{};         ///< absent where the program is not
};

/// One take a level for one patient: babble from 0.2 to 1.8 s (RMS 20 dB under the tap's peak), eight taps, then
/// things put down on a tray (peaks 6 dB under it). The noise is, by turns of the patient, suction, a handpiece, mains
/// hum, a room's echoes, or the three machines together; machines carry three quarters of its power and an even floor
/// the rest. `workshop` is a folder for aubio's copies of the takes; empty: aubio is not asked.
[[nodiscard]] std::vector<TapsResult> find_taps(const Family& family, std::uint64_t patient,
                                                const Recordings& recordings, const std::filesystem::path& workshop);

/// Right ones over all of a share: 2 right / (2 right + missed + extra); 1 when there was nothing to find or report.
[[nodiscard]] double f_measure(const Found& found);

} // namespace retap::validate
