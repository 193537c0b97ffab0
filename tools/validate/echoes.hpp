// Recorded strikes that are followed by themselves, against the same strikes alone: a change that every ear must hear.
#pragma once

#include "compare/comparison.hpp"
#include "strike_kits.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::validate {

/// What the taps of the two takes are: one strike alone, or with its echo.
struct EchoPair {
    std::string_view name;
    bool before_has_echo;
    bool after_has_echo;
};
inline constexpr std::array<EchoPair, 4> echo_pairs{
    {{.name = "alone, alone", .before_has_echo = false, .after_has_echo = false},
     {.name = "echo, echo", .before_has_echo = true, .after_has_echo = true},
     {.name = "alone, echo", .before_has_echo = false, .after_has_echo = true},
     {.name = "echo, alone", .before_has_echo = true, .after_has_echo = false}}};

/// What is used for the taps of a pair.
struct EchoKind {
    bool by_turns = false; ///< each tap plays the kit's next layer; otherwise one layer throughout
    bool reseated = false; ///< the second take hears through a pick-up that was put back, and impacts vary in tone
    [[nodiscard]] bool operator==(const EchoKind&) const = default;
};
inline constexpr std::array<EchoKind, 4> echo_kinds{{{.by_turns = false, .reseated = false},
                                                     {.by_turns = true, .reseated = false},
                                                     {.by_turns = false, .reseated = true},
                                                     {.by_turns = true, .reseated = true}}};

struct EchoResult {
    std::string kit;
    EchoKind kind{};
    std::uint64_t seed = 0;
    std::size_t pair = 0; ///< index into `echo_pairs`
    double gap_ms = 0.0;
    compare::Verdict verdict = compare::Verdict::unclear;
    double likeness = 0.0;
    std::array<double, 2> contacts{}; ///< middle number that Retap reports, before and after
};

/// The four pairs of one kit. Eight taps a take, 1 dB of effort from one to the next; the echo has half the strike's
/// strength and follows 0.3 to 5 ms later (even in its logarithm, 3 % scatter from tap to tap). Reseated: every impact
/// is also coloured by 0.8 dB an octave and 1 dB of level by itself, and the second take by 1.2 dB an octave, 1 dB an
/// octave of tilt and 1.5 dB of level. White noise stays where it is, 28 to 46 dB below the strike's peak.
[[nodiscard]] std::vector<EchoResult> hear_echoes(std::uint64_t seed, const tools::StrikeKit& kit,
                                                  const EchoKind& kind);

} // namespace retap::validate
