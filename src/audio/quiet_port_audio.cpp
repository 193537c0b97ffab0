#include "audio/quiet_port_audio.hpp"

#include <cerrno>
#include <cstddef>
#include <cstdio>
#include <string_view>
#include <unistd.h>

namespace retap::audio {
namespace {

bool is_chatter(std::string_view text) {
    return text.starts_with("Expression '") || text.starts_with("Host error description: ");
}

/// Called once for each fprintf, since the stream is unbuffered.
ssize_t pass_on(void* /*cookie*/, const char* bytes, std::size_t count) {
    if (is_chatter({bytes, count})) {
        return static_cast<ssize_t>(count);
    }
    ssize_t written = -1;
    do {
        written = ::write(STDERR_FILENO, bytes, count);
    } while (written < 0 && errno == EINTR);
    return written;
}

} // namespace

void quiet_port_audio() {
    static const bool done = [] {
        FILE* filtered =
            fopencookie(nullptr, "w", {.read = nullptr, .write = pass_on, .seek = nullptr, .close = nullptr});
        if (filtered != nullptr) {
            std::setvbuf(filtered, nullptr, _IONBF, 0);
            stderr = filtered; // the GNU C library says that its standard streams may be set like any variable
        }
        return true;
    }();
    static_cast<void>(done);
}

} // namespace retap::audio
