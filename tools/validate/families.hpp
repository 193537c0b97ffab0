// Families of simulated patients: a kind of jaw, and a way for its contacts to sound.
#pragma once

#include "bite/make_take.hpp"
#include "bite/mechanics.hpp"
#include "strike_kits.hpp"

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::validate {

/// The modes of a simulated skull; recorded strikes, one for each patient; or the strikes of one kit by turns, so that
/// no contact sounds like the one before.
enum class Sound : std::uint8_t { modal, strikes, turns };
inline constexpr std::array<Sound, 3> all_sounds{Sound::modal, Sound::strikes, Sound::turns};
[[nodiscard]] std::string_view name(Sound sound);

struct Family {
    bite::Mechanics mechanics = bite::Mechanics::light;
    Sound sound = Sound::modal;
    [[nodiscard]] bool operator==(const Family&) const = default;
};

/// "stopping-strikes".
[[nodiscard]] std::string name(const Family& family);

/// Each mechanics with modes and with strikes: what a run goes through unless it is told otherwise.
[[nodiscard]] std::vector<Family> usual_families();
/// The families that a word means: one by its name, those of a mechanics or of a sound by theirs. Empty: not known.
[[nodiscard]] std::vector<Family> families_named(std::string_view word);

/// What takes of recorded strikes are made from.
struct Recordings {
    std::vector<bite::Stretch> strikes{};
    std::vector<tools::StrikeKit> kits{};
};
/// Throws InputError when the recordings are not installed.
[[nodiscard]] Recordings load_recordings();

/// The patient's taps as this family makes and sounds them: patient, jaw, strikes and the recording chain, which stays
/// the same for all takes of the patient. Gain: the usual tap of the unchanged bite in the first seat peaks at -24 to
/// -12 dBFS. Noise: 28 to 46 dB below that peak whatever the tap at hand, of one colour. How much the person's taps
/// differ, and the pick-up's seats, is the patient's too. The pick-up sits at the forehead or, in one patient of three,
/// at a cheekbone; half of the rooms are heard, 25 to 40 dB below the taps. `recordings` must outlive it.
[[nodiscard]] bite::Scenario scenario_of(const Family& family, std::uint64_t patient, const Recordings& recordings);

} // namespace retap::validate
