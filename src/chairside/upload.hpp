// Sound files dropped onto the page.
#pragma once

#include "chairside/visit_desk.hpp"

#include <string_view>

namespace retap::chairside {

/// Reads any sound file the program can read and makes a take of it: 24-bit FLAC, cut to half a second around the taps,
/// so that no talk is stored. Throws InputError for what is no sound, has no taps, or is longer than ten minutes: a
/// take is some seconds of tapping.
[[nodiscard]] NewTake uploaded_take(std::string_view name, std::string_view bytes);

} // namespace retap::chairside
