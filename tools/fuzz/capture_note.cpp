// What a take says of its own recording, as any program may have written it into a file's comment.
#include "audio/capture_note.hpp"
#include "audio/sound_writer.hpp"
#include "target.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace retap;
    if (const auto note = audio::read_note(fuzz::text_of(data, size))) {
        const std::string written = audio::write_note(*note);
        fuzz::must(written.size() <= audio::max_comment_bytes, "a note has room in a file's comment");
        const auto again = audio::read_note(written);
        fuzz::must(again.has_value(), "what is written is a note");
        fuzz::must(audio::write_note(*again) == written, "what is written is read as the same");
    }
    return 0;
}
