#include "audio/unfinished.hpp"

#include "audio/capture_note.hpp"
#include "audio/journal_taps.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace retap::audio {
namespace fs = std::filesystem;
namespace {

std::uint64_t frames_in(JournalReader& reader) {
    std::uint64_t samples = 0;
    JournalReader::Record record;
    while (reader.next(record)) {
        samples += record.samples.size();
    }
    return samples / static_cast<std::uint64_t>(reader.head().format.channels);
}

/// Whether `file` is the finished take `take_id`.
bool is_take(const fs::path& file, const std::string& take_id) {
    std::error_code ignored;
    if (take_id.empty() || !fs::is_regular_file(file, ignored)) {
        return false;
    }
    try {
        const auto note = read_note(SoundReader(file).comment());
        return note && note->take_id == take_id;
    } catch (const InputError&) {
        return false; // something else, or damaged: the journal is still worth keeping
    }
}

void remove_journal(const fs::path& journal) {
    std::error_code ignored;
    fs::remove(journal, ignored);
}

fs::path free_name(const fs::path& wanted) {
    fs::path name = wanted;
    std::error_code ignored;
    for (int number = 1; fs::exists(fs::symlink_status(name, ignored)); ++number) {
        name = wanted.parent_path() /
               (wanted.stem().string() + "-recovered-" + std::to_string(number) + wanted.extension().string());
    }
    return name;
}

/// Killed while saving, a recording leaves the half-written file that was to be moved into place. Only its journal's
/// owner may call this: nobody else writes to that name then.
void remove_half_written(const fs::path& destination) {
    constexpr std::size_t random_part = 6;
    const std::string prefix = "." + destination.filename().string() + ".";
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(destination.parent_path(), ignored)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with(prefix) && name.size() == prefix.size() + random_part) {
            fs::remove(entry.path(), ignored);
        }
    }
}

} // namespace

fs::path unfinished_folder() {
    const auto setting = [](const char* name) {
        const char* value = std::getenv(name);
        return fs::path(value == nullptr ? "" : value);
    };
    // The specification of these folders says that relative paths are to be ignored.
    if (const fs::path state = setting("XDG_STATE_HOME"); state.is_absolute()) {
        return state / "retap" / "unfinished";
    }
    if (const fs::path home = setting("HOME"); home.is_absolute()) {
        return home / ".local" / "state" / "retap" / "unfinished";
    }
    throw InputError("Cannot tell where to keep a running recording: neither XDG_STATE_HOME nor HOME is set. Set one.");
}

UnfinishedTakes find_unfinished(const fs::path& folder) {
    UnfinishedTakes found;
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder, ignored)) {
        if (entry.path().extension() != ".journal") {
            continue;
        }
        const FileDescriptor lock = lock_abandoned(entry.path());
        if (!lock.open()) {
            continue;
        }
        if (!has_whole_head(entry.path())) {
            remove_journal(entry.path());
            continue;
        }
        try {
            JournalReader reader(entry.path());
            const std::uint64_t frames = frames_in(reader);
            if (frames == 0 || is_take(reader.head().destination, reader.head().take_id)) {
                remove_half_written(reader.head().destination);
                remove_journal(entry.path());
                continue;
            }
            found.takes.push_back({.journal = entry.path(),
                                   .head = reader.head(),
                                   .duration_s = static_cast<double>(frames) / reader.head().format.sample_rate_hz});
        } catch (const InputError&) {
            found.unreadable.push_back(entry.path());
        }
    }
    std::sort(found.takes.begin(), found.takes.end(),
              [](const auto& a, const auto& b) { return a.head.started < b.head.started; });
    return found;
}

std::optional<FinishedTake> recover(const UnfinishedTake& take, const std::optional<fs::path>& destination) {
    const FileDescriptor lock = lock_abandoned(take.journal);
    if (!lock.open()) {
        return std::nullopt;
    }
    const fs::path wanted = destination.value_or(take.head.destination);
    auto finished = finish_take(take.journal, spans_to_recover(take.journal), destination ? wanted : free_name(wanted),
                                {.ended_by = "interruption", .recovered = true});
    remove_half_written(take.head.destination);
    remove_journal(take.journal);
    return finished;
}

} // namespace retap::audio
