#include "audio/quiet_jack.hpp"

#include <jack/jack.h>

namespace retap::audio {

void quiet_jack() {
    const auto say_nothing = [](const char* /*message*/) {};
    jack_set_error_function(say_nothing);
    jack_set_info_function(say_nothing);
}

} // namespace retap::audio
