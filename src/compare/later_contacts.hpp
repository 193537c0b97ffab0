// Whether contacts that can be told apart come later, or later no more.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/landing/spectral_ripple.hpp"

#include <cstddef>
#include <span>

namespace retap::compare {

struct LaterContactsSettings {
    /// Spreads that differ by less are within what the usual landing of an unchanged bite wanders by (28 um at 70
    /// mm/s), and near where contacts stop being told apart; nearer ones leave a ripple.
    double least_ms = 0.4;
    /// Contacts count from this strength on. Weaker ones are told apart in one seat of the pick-up and not in the next.
    double min_strength = 0.4;
    double level = 0.05; ///< of the test from which ranks say anything
    /// A ripple of the spectrum that is higher by so much, nepers, is a second impact; what a re-seated pick-up adds to
    /// one delay stays well below.
    double min_ripple = 0.2;
    double ripples_tried = 32.0; ///< delays that could each show one by chance
};

/// When the last contact comes on two sides, in the middle, and what the order of the taps says.
struct LaterContacts {
    double before_ms = 0.0;
    double after_ms = 0.0;
    double p = 1.0;      ///< of the ranks, two-sided, were both sides one bite
    double weight = 0.0; ///< log(level / p) when the middles lie far enough apart and p is below the level; else 0
};

/// The exact permutation test of the sum of ranks (Wilcoxon F 1945, Biometrics Bulletin 1:80-83, with middle ranks for
/// ties; from memory): two-sided, the share of all ways to deal the values to two sides of these sizes whose sum lies
/// as far from its expectation. 1 when a side is empty.
[[nodiscard]] double rank_sum_p(std::span<const double> first, std::span<const double> second);

/// From the first to the last of the contacts that are strong enough to be heard in any seat, ms; 0 of a single one.
[[nodiscard]] double strong_spread_ms(std::span<const dsp::Contact> contacts,
                                      const LaterContactsSettings& settings = {});

/// `before` and `after`: that spread of each usable tap of which contacts were looked for.
[[nodiscard]] LaterContacts later_contacts(std::span<const double> before, std::span<const double> after,
                                           const LaterContactsSettings& settings = {});

/// The same from the ripples of all taps, with their `side` (0 or 1): where taps sound unlike each other, and their
/// contacts cannot be told apart, a second impact still repeats the first one of its own tap. The delay is told of the
/// side that has the ripple; 0 of the other.
[[nodiscard]] LaterContacts later_ripple(const dsp::SpectralRipples& ripples, std::span<const std::size_t> side,
                                         const LaterContactsSettings& settings = {});

} // namespace retap::compare
