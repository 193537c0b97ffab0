// Keeps the ALSA library from writing to stderr.
#pragma once

namespace retap::audio {

/// For the whole program, from now on. ALSA reports on stderr every device of its configuration that is not there; what
/// matters of it comes back as an error code.
void quiet_alsa();

} // namespace retap::audio
