// How differently the contacts land on two sides, against how differently they land anyway.
#pragma once

#include "dsp/landing/landing.hpp"
#include "dsp/landing/seat_filters.hpp"

#include <cstddef>
#include <span>

namespace retap::compare {

struct LandingDifferenceSettings {
    dsp::SeatScatter seat;        ///< how a re-seated pick-up is assumed to hear differently
    std::size_t seats = 24;       ///< seats tried to see which way re-seating moves a landing
    std::size_t usual_seats = 12; ///< and among the usual differences
    double seat_figure_db = 0.75; ///< by how much such a seat moves a figure of a landing (median over the bite model)
    std::size_t seat_weight = 2;  ///< how many repeats of the clinic's own those assumptions count for
    double residual_db = 1.0;     ///< what moves a figure besides taps and seats
    /// Part of the covariance between the figures that is not believed: some dozen taps cannot show it in full.
    double independence = 0.2;
    std::size_t relabellings = 24; ///< each tried either way round: the middle of twice so many is known to 2 %
    unsigned seed = 1;             ///< of seats and relabellings: the same takes give the same answer
    std::size_t usual_taps = 8;
    /// With n times as many taps the scatter of the taps shrinks by the root of n, and so a difference of one size is
    /// so many times as large a ratio; what moves unchanged bites between takes does not shrink. The ratio is told as
    /// it would be with the usual number of taps, by the root of n to this power: then more taps and repeats let more
    /// unchanged bites pass (simulated, 4 to 24 taps a side) and no more of the high ones.
    double taps_power = 0.5;
};

/// 1: the sides differ as much as any two halves of all their taps, mixed at random, would with the pick-up re-seated
/// between them, when there are eight to a side. More, and infinite where the halves never differ: the taps of a side
/// have something in common that those of the other have not.
///
/// `side` (0 or 1) and `take` say for each tap where it comes from; both sides have two taps or more (asserted). Takes
/// of one side are repeats with the pick-up re-seated, and teach how much that moves.
///
/// Method: each tap is described by its landing as seen against the taps of either side (mean of the table's rows). The
/// distance between the sides' centres is measured in the scatter of taps within takes, with the covariance shrunk
/// towards its diagonal (Ledoit O, Wolf M 2004, J Multivar Anal 88:365-411, from memory; a fixed part here), plus the
/// covariance by which re-seating moves the centres. That is found by passing one side through filters such as lie
/// between two seats and looking again. The distance is divided by the median of the same figure over random
/// relabellings of the taps (Pitman's permutation idea; from memory), each with such a filter on one side: what taps,
/// patient, noise and pick-up do to the distance when there is no difference. Two sides with the same taps give 0.
/// Fails where re-seating does what no smooth filter does, such as moving a resonance.
[[nodiscard]] double landing_difference(dsp::LandingSounds& sounds, dsp::SampleRate rate,
                                        std::span<const std::size_t> side, std::span<const std::size_t> take,
                                        const LandingDifferenceSettings& settings = {});

} // namespace retap::compare
