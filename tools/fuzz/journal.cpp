// What an interrupted recording left, read, listened to and finished.
#include "audio/journal.hpp"
#include "aside_file.hpp"
#include "audio/finish_take.hpp"
#include "audio/journal_taps.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"
#include "target.hpp"

#include <filesystem>
#include <fstream>

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace retap;
    const auto journal = fuzz::scratch() / "input.journal";
    const auto take = fuzz::scratch() / "take.wav";
    std::ofstream(journal, std::ios::binary) << fuzz::text_of(data, size);
    try {
        static_cast<void>(audio::has_whole_head(journal));
        audio::JournalReader reader(journal);
        audio::JournalReader::Record record;
        std::uint64_t frames = 0;
        while (reader.next(record)) {
            frames += record.samples.size() / static_cast<std::size_t>(reader.head().format.channels);
        }
        fuzz::must(reader.damage().bytes <= size, "no more is lost than there was");
        if (!fuzz::chosen(data, size)) {
            return 0;
        }
        const auto finished = audio::finish_take(journal, audio::spans_to_recover(journal), take, {});
        fuzz::must(!finished || frames > 0, "a take holds what the journal held");
    } catch (const InputError&) { // the answer to a journal that is none
    }
    std::filesystem::remove(take);
    return 0;
}
