// What can be told apart inside the taps of a take: which contacts, when, how strong.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"
#include "dsp/contacts/shifting_arrival.hpp"
#include "dsp/filters/linear_prediction.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

struct ContactSettings {
    std::size_t order = 16; ///< of the shared all-pole model: short enough to leave gaps above 0.35 ms alone
    SharedModelSettings model{};
    LinearPredictionSettings prediction{};

    /// Gaps looked for. Below the shortest the model of the ringing takes a second contact for its own; contacts of one
    /// closing lie within 5 ms for all but a high spot met at walking pace (100 um at 20 mm/s).
    double shortest_ms = 0.23;
    double longest_ms = 5.5;
    /// Short gaps are sought under a fast weighting, long ones under one that leaves them time (see
    /// dsp/contacts/second_arrival).
    double short_gap_ms = 1.25;
    double short_decay_ms = 3.0;
    double long_decay_ms = 6.0;

    /// A second contact counts when it explains at least so much (nats). Searching a thousand lags and ratios by chance
    /// gives 7; structure of single strikes that no other rule turns down gives up to 15 on recorded ones.
    double min_gain = 15.0;
    /// and so much more than a ringing at that period does. Contacts as strong as each other are told from a ringing
    /// most easily (single strikes up to 5); a weaker one after the first is what a ringing's own echo is (up to 23, of
    /// a wooden block), a weaker one before it less so (up to 15).
    Level alike{6.4};
    double min_over_ringing = 9.0;
    double min_over_ringing_if_later = 26.0;
    double min_over_ringing_if_earlier = 17.0;
    /// It matters when it is no weaker than this against the first (what comes later may be a reflection) ..
    Level min_later{-8.0};
    /// .. and the first no weaker than this against it (nothing sounds before what it came from).
    Level min_earlier{-14.0};

    /// Taps that are fitted together; a longer list is split evenly.
    std::size_t most_together = 10;
    ShiftSettings shift{};
    /// Shifting contacts count when they explain at least so much of what the noise does not explain of the differences
    /// between the taps (single strikes of scattered strength: up to 0.3) ..
    double min_explained = 0.4;
    /// .. and so many times what chance takes up of the noise (single strikes in noise: up to 21), in taps that differ
    /// at least about as much as the noise makes them,
    double min_over_chance = 25.0;
    double min_over_noise = 0.9;
    /// in taps whose weaker contact is no weaker than this. An echo would not shift, so it need not be feared here.
    Level min_shifting{-14.0};
};

/// The contacts of one tap. Always at least one.
struct ContactTrain {
    std::vector<Contact> contacts; ///< by time; the first at 0, the strongest of strength 1
    double onset_spread_ms = 0.0;  ///< first contact to the last one that matters; 0 for one
    double resolution_ms = 0.0;    ///< two arrivals nearer than this are reported as one
};

/// One train for each tap, in order. `taps` are all usable taps of one take: excerpts from 20 ms before to 20 ms or
/// more after the onset, which the finder knows to about half a millisecond. They share one model of the ringing.
///
/// Two methods. Where the gap scatters from tap to tap under one sound (dsp/contacts/shifting_arrival), gaps come out
/// within 0.005 ms and nothing about the sound matters; so it is asked first. Where it finds nothing, each tap by
/// itself: whitening by the shared model (dsp/filters/linear_prediction), then the best explanation as one sound
/// arriving twice (dsp/contacts/second_arrival), then rules which can only say no; at least half of the taps must
/// agree.
///
/// Sound travels on in its own shape, so the two contacts must sound alike for a pair to be found: the same tooth pair,
/// or pairs heard through the same bone. Contacts of quite different sound, contacts nearer than `resolution_ms`, and a
/// third one beside two stronger ones are not told apart and never guessed.
[[nodiscard]] std::vector<ContactTrain> resolve_contacts(std::span<const TapSound> taps, SampleRate rate,
                                                         const ContactSettings& settings);

} // namespace retap::dsp
