#include "dsp/find/tap_rules.hpp"

#include <algorithm>
#include <array>

namespace retap::dsp {

namespace {
using Verdict = std::optional<std::string>;

Verdict too_soft(const EventShape& s, const TapLimits& limits) {
    return s.over_noise < limits.min_over_noise ? Verdict("hardly louder than the noise") : std::nullopt;
}
Verdict restless(const EventShape& s, const TapLimits& limits) {
    return s.prominence < limits.min_prominence ? Verdict("no more sudden than what else is heard around it")
                                                : std::nullopt;
}
Verdict swells(const EventShape& s, const TapLimits& limits) {
    return s.rise_ms > limits.longest_rise_ms || s.jump < limits.min_jump
               ? Verdict("it swells up slowly: talk, suction or a handpiece rather than an impact")
               : std::nullopt;
}
Verdict lasts(const EventShape& s, const TapLimits& limits) {
    return s.fall_ms > limits.longest_fall_ms || s.after > limits.max_after
               ? Verdict("it lasts too long for a tap: talk, or something that rings")
               : std::nullopt;
}
Verdict in_the_middle(const EventShape& s, const TapLimits& limits) {
    return s.before > limits.max_before ? Verdict("other sound runs into it") : std::nullopt;
}
Verdict among_talk(const EventShape& s, const TapLimits& limits) {
    return s.busy > limits.max_busy ? Verdict("other sound goes on around it: talk or work") : std::nullopt;
}
Verdict thud(const EventShape& s, const TapLimits& limits) {
    return s.below > limits.max_below ? Verdict("a dull thud: a step, or a knock on the pick-up") : std::nullopt;
}
Verdict tone(const EventShape& s, const TapLimits& limits) {
    return s.octaves_risen < std::min(limits.min_octaves, s.octaves)
               ? Verdict("a tone, not an impact: it sounds in one octave only")
               : std::nullopt;
}
} // namespace

std::optional<std::string> not_a_tap(const EventShape& shape, const TapLimits& limits) {
    constexpr std::array rules{too_soft, restless, swells, lasts, in_the_middle, among_talk, thud, tone};
    for (const auto rule : rules) {
        if (auto reason = rule(shape, limits)) {
            return reason;
        }
    }
    return std::nullopt;
}

} // namespace retap::dsp
