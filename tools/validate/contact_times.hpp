// How well the second arrival of a tap is timed.
#pragma once

#include "bite/modal_voice.hpp"
#include "validate/simulated.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace retap::validate {

/// The gaps between two contacts are drawn and told in the bands between these, ms.
inline constexpr std::array<double, 7> gap_edges_ms{0.3, 0.5, 0.8, 1.25, 2.0, 3.2, 5.0};

/// One tap whose second arrival is known.
struct ContactResult {
    std::string source; ///< "double strike", "single strike", "high spot"
    std::uint64_t patient = 0;
    double gap_ms = 0.0;              ///< from the first arrival to the second, true; 0: there is none
    std::size_t heard = 0;            ///< contacts that Retap reports
    std::optional<double> error_ms{}; ///< of the reported contact nearest to the second arrival, when within reach
    double bound_ms = 0.0;            ///< Cramer-Rao, one tap, sound known; 0 where it does not apply
};

/// Reported contacts count as the second arrival up to this far from it.
inline constexpr double contact_reach_ms = 0.15;
/// Second arrivals nearer than this are not asked for: balanced teeth land within a quarter of a millisecond.
inline constexpr double min_gap_ms = 0.3;

/// Takes of eight taps, each one recorded strike played twice 0.3 to 5 ms apart (six takes, gaps spread evenly in
/// their logarithm, 3 % scatter from tap to tap), the second 0.5 to 4 times as strong as the first, every contact
/// coloured by 0.8 dB an octave, in white noise 28 to 46 dB below the peak; and one take that plays it once.
[[nodiscard]] std::vector<ContactResult> double_strikes(std::uint64_t seed, std::span<const bite::Stretch> strikes);

/// The taps of a take with a high spot: its first arrival against the next pair's, where the two are min_gap_ms or
/// more apart. The bound takes both to sound like the patient's usual tap, sized by their impulses.
[[nodiscard]] std::vector<ContactResult> high_spot(const HeardTake& take);

} // namespace retap::validate
