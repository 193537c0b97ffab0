// A sound file of any kind, read and analysed.
#include "audio/inspect_file.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"
#include "target.hpp"

#include <span>

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace retap;
    const auto bytes = std::as_bytes(std::span(data, size));
    try {
        constexpr std::int64_t long_enough = 200000; // frames; more only costs time
        if (audio::SoundReader(bytes, "input").frames() > long_enough) {
            return 0;
        }
        const audio::Sound sound = audio::read_sound(bytes, "input");
        fuzz::must(sound.channels == 1 || sound.channels == 2, "a sound has one channel or two");
        if (fuzz::chosen(data, size)) {
            static_cast<void>(audio::inspect_sound(sound, "input"));
        }
    } catch (const InputError&) { // the answer to a file that is none
    }
    return 0;
}
