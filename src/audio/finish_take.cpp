#include "audio/finish_take.hpp"

#include "audio/journal.hpp"
#include "audio/sound_writer.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

struct Survey {
    std::uint64_t frames = 0;
    std::vector<Join> joins;
};

/// Joins stand at the head of the file, so they are looked for before the sound is copied.
Survey survey(const std::filesystem::path& journal) {
    JournalReader reader(journal);
    const auto channels = static_cast<std::size_t>(reader.head().format.channels);
    Survey found;
    std::optional<Join> pending_gap;
    std::optional<std::uint64_t> expected;
    JournalReader::Record record;
    while (reader.next(record)) {
        if (record.is_gap) {
            const std::uint64_t earlier = pending_gap ? pending_gap->missing_frames : 0;
            pending_gap = Join{.kind = Join::Kind::gap, .missing_frames = earlier + record.lost_frames};
            continue;
        }
        const bool jumped = expected && *expected != record.position;
        if (found.frames > 0 && (jumped || pending_gap)) {
            // A pause that holds a gap is a pause: its length is known up to the gap, and nothing was timed there.
            Join join = pending_gap.value_or(Join{});
            if (jumped) {
                join = {.kind = Join::Kind::pause, .missing_frames = record.position - *expected};
            }
            join.at_frame = found.frames;
            found.joins.push_back(join);
        }
        pending_gap.reset();
        found.frames += record.samples.size() / channels;
        expected = record.position + record.samples.size() / channels;
    }
    return found;
}

} // namespace

std::optional<FinishedTake> finish_take(const std::filesystem::path& journal, const std::filesystem::path& destination,
                                        CaptureNote note) {
    const Survey found = survey(journal);
    if (found.frames == 0) {
        return std::nullopt;
    }
    JournalReader reader(journal);
    const JournalHead& head = reader.head();
    note.take_id = head.take_id;
    note.device = head.device;
    note.started = head.started;
    note.kept_everything = head.keep_all;
    note.joins = found.joins;
    SoundWriter writer(destination, head.format.sample_rate_hz, head.format.channels, format_for(destination));
    writer.set_comment(write_note(note));
    JournalReader::Record record;
    while (reader.next(record)) {
        if (!record.is_gap) {
            writer.write(record.samples);
        }
    }
    writer.commit(Existing::refuse);
    return FinishedTake{.file = destination,
                        .note = std::move(note),
                        .duration_s = static_cast<double>(found.frames) / head.format.sample_rate_hz};
}

} // namespace retap::audio
