#include "audio/alsa_setup.hpp"

#include <alsa/asoundlib.h>

namespace retap::audio {
namespace {

// ALSA's handler has C's variable arguments; there is no other way to have one.
// NOLINTNEXTLINE(cert-dcl50-cpp)
void say_nothing(const char* /*file*/, int /*line*/, const char* /*function*/, int /*error*/, const char* /*format*/,
                 ...) {}

bool configured(const char* device) {
    snd_config_t* found = nullptr;
    return snd_config_search(snd_config, device, &found) >= 0;
}

} // namespace

void quiet_alsa() {
    snd_lib_error_set_handler(say_nothing);
}

void ensure_alsa_default() {
    if (snd_config_update() < 0 || snd_config == nullptr || configured("pcm.default") || configured("pcm.dmix")) {
        return;
    }
    constexpr const char* no_such_card = "pcm.default { type hw card 9999 }";
    constexpr ssize_t all_of_it = -1;
    snd_input_t* text = nullptr;
    if (snd_input_buffer_open(&text, no_such_card, all_of_it) >= 0) {
        snd_config_load(snd_config, text); // when it fails nothing is worse than before
        snd_input_close(text);
    }
}

} // namespace retap::audio
