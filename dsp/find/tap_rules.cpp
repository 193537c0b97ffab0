#include "dsp/find/tap_rules.hpp"

#include <algorithm>
#include <array>

namespace retap::dsp {

namespace {
using Verdict = std::optional<NoTap>;

Verdict too_soft(const EventShape& s, const TapLimits& limits) {
    return s.over_noise < limits.min_over_noise ? Verdict(NoTap::too_soft) : std::nullopt;
}
Verdict restless(const EventShape& s, const TapLimits& limits) {
    return s.prominence < limits.min_prominence ? Verdict(NoTap::restless) : std::nullopt;
}
Verdict swells(const EventShape& s, const TapLimits& limits) {
    return s.rise_ms > limits.longest_rise_ms || s.jump < limits.min_jump ? Verdict(NoTap::swells) : std::nullopt;
}
Verdict lasts(const EventShape& s, const TapLimits& limits) {
    return s.fall_ms > limits.longest_fall_ms || s.after > limits.max_after ? Verdict(NoTap::lasts) : std::nullopt;
}
Verdict in_the_middle(const EventShape& s, const TapLimits& limits) {
    return s.before > limits.max_before ? Verdict(NoTap::in_the_middle) : std::nullopt;
}
Verdict among_talk(const EventShape& s, const TapLimits& limits) {
    return s.busy > limits.max_busy ? Verdict(NoTap::among_talk) : std::nullopt;
}
Verdict thud(const EventShape& s, const TapLimits& limits) {
    return s.below > limits.max_below ? Verdict(NoTap::thud) : std::nullopt;
}
Verdict tone(const EventShape& s, const TapLimits& limits) {
    return s.octaves_risen < std::min(limits.min_octaves, s.octaves) ? Verdict(NoTap::tone) : std::nullopt;
}
} // namespace

std::optional<NoTap> not_a_tap(const EventShape& shape, const TapLimits& limits) {
    constexpr std::array rules{too_soft, restless, swells, lasts, in_the_middle, among_talk, thud, tone};
    for (const auto rule : rules) {
        if (const Verdict reason = rule(shape, limits)) {
            return reason;
        }
    }
    return std::nullopt;
}

} // namespace retap::dsp
