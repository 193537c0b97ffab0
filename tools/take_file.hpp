// Made takes as files: the sound, and the truth as a line of JSON.
#pragma once

#include "audio/sound_writer.hpp"
#include "bite/make_take.hpp"

#include <filesystem>
#include <string>

namespace retap::tools {

/// Writes the samples; throws InputError when it cannot.
void write_take(const std::filesystem::path& path, const bite::Take& take, audio::SoundFormat format);

/// The members "change" (null, or heights and slide with upper teeth in ISO 3950) and "taps": of each tap onset_s
/// (first contact), arrival_s and peak of the clean sound at each pick-up, contacts (each pair once, when it first met:
/// pair, point of it and its share of the stiffness, at_s, speed in m/s, force in N, impulse in N s) and again (what
/// met at another point, or again after a rebound). Not enclosed in braces.
[[nodiscard]] std::string truth_members(const bite::Scenario& scenario, const bite::Take& take);

} // namespace retap::tools
