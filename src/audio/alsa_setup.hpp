// What ALSA needs before PortAudio may use it.
#pragma once

namespace retap::audio {

/// For the whole program, from now on. ALSA reports on stderr every device of its configuration that is not there; what
/// matters of it comes back as an error code.
void quiet_alsa();

/// PortAudio 19.6 ends the program by an assertion when ALSA's configuration has no default device and every device in
/// it opens, as when it is empty. Puts in a default that cannot be opened, and so is not listed, where there is none.
/// Before each start of PortAudio, which forgets the configuration when it ends.
void ensure_alsa_default();

} // namespace retap::audio
