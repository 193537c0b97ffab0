// How differently the contacts land on two sides, against how differently they land anyway.
#pragma once

#include "dsp/landing.hpp"

#include <cstddef>
#include <span>

namespace retap::compare {

struct LandingDifferenceSettings {
    /// By how much a re-seated pick-up moves each figure of a landing, dB: found on the bite model, where 1 and 2 serve
    /// equally.
    double reseat_db = 2.0;
    std::size_t reseat_weight = 2; ///< how many repeats of the clinic's own that default counts for
    /// Part of the covariance between the figures that is not believed: some dozen taps cannot show it in full.
    double independence = 0.2;
    std::size_t relabellings = 48; ///< the middle of so many is known to 2 %
    unsigned seed = 1;             ///< of the relabellings: the same takes give the same answer
};

/// 1: the sides differ as much as any two halves of all their taps, mixed at random. More: the taps of a side have
/// something in common that those of the other have not.
struct LandingDifference {
    double ratio = 0.0;
    double standard_error = 0.0; ///< by leaving out each tap in turn (jackknife)
};

/// `side` (0 or 1) and `take` say for each tap of the table where it comes from; both sides have two taps or more
/// (asserted). Takes of one side are repeats with the pick-up re-seated, and teach how much that moves.
///
/// Method: each tap is described by its landing as seen against the taps of either side (mean of the table's rows). The
/// distance between the sides' centres is measured in the scatter of taps within takes plus what re-seating moves, with
/// the covariance shrunk towards its diagonal (Ledoit O, Wolf M 2004, J Multivar Anal 88:365-411, from memory; a fixed
/// part here). It is divided by the median of the same figure over random relabellings of the taps (Pitman's
/// permutation idea), which carries what taps, patient and noise do to the distance when there is no difference. Two
/// sides with the same taps give 0.
[[nodiscard]] LandingDifference landing_difference(const dsp::LandingTable& table, std::span<const std::size_t> side,
                                                   std::span<const std::size_t> take,
                                                   const LandingDifferenceSettings& settings = {});

} // namespace retap::compare
