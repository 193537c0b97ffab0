#include "audio/quiet_alsa.hpp"

#include <alsa/asoundlib.h>

namespace retap::audio {
namespace {

// ALSA's handler has C's variable arguments; there is no other way to have one.
// NOLINTNEXTLINE(cert-dcl50-cpp)
void say_nothing(const char* /*file*/, int /*line*/, const char* /*function*/, int /*error*/, const char* /*format*/,
                 ...) {}

} // namespace

void quiet_alsa() {
    snd_lib_error_set_handler(say_nothing);
}

} // namespace retap::audio
