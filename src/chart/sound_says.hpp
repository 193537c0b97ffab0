// What the rules hear of a comparison of sounds: three facts and nothing else.
#pragma once

#include "compare/comparison.hpp"

#include <optional>
#include <string_view>

namespace retap::chart {

/// How the first contact stands to the main impact, beside the baseline. A high spot leads more (earlier).
enum class FirstContact { not_told, as_before, earlier, later };
[[nodiscard]] std::string_view word(FirstContact first); ///< "not told", "as before", "earlier", "later"
[[nodiscard]] std::optional<FirstContact> first_contact_from(std::string_view word);

struct SoundSays {
    compare::Verdict verdict = compare::Verdict::unclear;
    std::optional<double> likeness{}; ///< 0 to 100; absent when it tells nothing
    FirstContact first_contact = FirstContact::not_told;

    SoundSays() = default;
    // a bare verdict is the least a comparison says
    SoundSays(compare::Verdict said) : verdict(said) {} // NOLINT(google-explicit-constructor)
    SoundSays(compare::Verdict said, std::optional<double> alike, FirstContact first)
        : verdict(said), likeness(alike), first_contact(first) {}
    friend bool operator==(const SoundSays& sound, compare::Verdict said) { return sound.verdict == said; }
};

/// Read from the comparison's verdict, its likeness and its measure "first_sound".
[[nodiscard]] FirstContact first_contact(const compare::Comparison& comparison);
[[nodiscard]] SoundSays sound_says(const compare::Comparison& comparison);

} // namespace retap::chart
