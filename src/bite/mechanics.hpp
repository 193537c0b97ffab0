// Kinds of jaw: the same patient with another weight, other ligaments, other habits of meeting.
#pragma once

#include "bite/patient.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace retap::bite {

/// How a patient's bite answers to a high tooth depends on weight, speed and ligaments, which nobody knows of a given
/// patient. Closing energy m v^2 / 2 against the spring k of two crowns in series: a tooth that is high by more than
/// v sqrt(m / k) stops the jaw before the others meet (26 um at 30 mm/s, 87 um at 100 mm/s with 0.15 kg and 2e5 N/m;
/// computed). Below it the others follow by the height over the speed.
enum class Mechanics : std::uint8_t {
    light,    ///< soft, stiffening ligaments and a jaw held softly in its joints: the others nearly always follow
    stopping, ///< stiff, linear ligaments and firm joints: 0.08 to 0.25 kg at the first molars, 1e5 to 4e5 N/m
    chance,   ///< several contacts a tooth; which of them meet changes from tap to tap, light ones come early
    mixed     ///< from soft to stiff and light to heavy, half of the patients with contacts by chance
};
inline constexpr std::array<Mechanics, 4> all_mechanics{Mechanics::light, Mechanics::stopping, Mechanics::chance,
                                                        Mechanics::mixed};
[[nodiscard]] std::string_view name(Mechanics mechanics);
[[nodiscard]] std::optional<Mechanics> mechanics_named(std::string_view word);

/// The patient that belongs to a seed, with this kind of jaw: always the same one. `light` is draw_patient(seed). Skull
/// and taste for tapping are shared by the kinds; teeth, jaw, muscle and speed are not.
[[nodiscard]] Patient draw_patient(std::uint64_t seed, Mechanics mechanics);

/// Mass that a pair meets when the jaw turns on its hinge alone, kg.
[[nodiscard]] double hinged_mass_kg(const Patient& patient, std::size_t pair);
/// Static stiffness of a pair's two ligaments in series, at rest, N/m.
[[nodiscard]] double series_stiffness_n_per_m(const ToothPair& pair);
/// Height above which a tooth takes up the closing energy of this patient's usual tap before the others meet, if its
/// ligaments are linear, lose nothing, and the jaw turns on its hinge alone.
[[nodiscard]] double stopping_height_m(const Patient& patient, std::size_t pair);

} // namespace retap::bite
