// Keeps the JACK library from writing to stderr.
#pragma once

namespace retap::audio {

/// For the whole program, from now on. JACK reports on stderr that no server runs, which is the usual state of a desk.
void quiet_jack();

} // namespace retap::audio
