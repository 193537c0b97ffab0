// Keeps PortAudio from writing to stderr.
#pragma once

namespace retap::audio {

/// For the whole program, from now on; calling it again changes nothing. PortAudio 19.6 as Debian builds it reports
/// every refused device and every lost one on C's stderr, from threads of its own, and has no hook for that; what
/// matters of it comes back as an error code. So C's stderr becomes a stream that leaves out PortAudio's two kinds of
/// line and passes on everything else as it is. C++'s std::cerr is not touched.
void quiet_port_audio();

} // namespace retap::audio
