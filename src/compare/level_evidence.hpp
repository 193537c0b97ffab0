// What the level of the taps says when both sides were recorded at one setting.
#pragma once

#include <span>

namespace retap::compare {

/// Whether levels before and after may be held against each other.
enum class Setting {
    unknown, ///< another device, gain or pick-up may have been used
    same,    ///< one device, one gain, one pick-up, put back as it was
};

struct LevelEvidenceSettings {
    double free_db = 4.0;   ///< what effort and seat move the middle of a take by
    double per_db = 0.2;    ///< weight of each further decibel, nats
    double repeat_db = 6.0; ///< a second take repeats the change when it lies at least so far out the same way
};

struct LevelEvidence {
    double before_db = 0.0; ///< median over takes of the median peak of their taps
    double after_db = 0.0;
    double weight = 0.0;   ///< nats, 0 or more; louder counts as softer does, so that the sides can be swapped
    bool repeated = false; ///< a second take of a side shows it too
};

/// `before` and `after`: for each take of a side the median peak of its taps, dBFS. Not empty (asserted).
[[nodiscard]] LevelEvidence level_evidence(std::span<const double> before, std::span<const double> after,
                                           const LevelEvidenceSettings& settings = {});

} // namespace retap::compare
