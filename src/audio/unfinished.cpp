#include "audio/unfinished.hpp"

#include "aside_file.hpp"
#include "audio/capture_note.hpp"
#include "audio/journal_taps.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
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

bool found_damage(const fs::path& journal) {
    JournalReader reader(journal);
    static_cast<void>(frames_in(reader));
    return reader.damage().stretches > 0;
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

/// Whether a file that ends within its head can hold no sound: the program was stopped while it made the file.
bool holds_no_record(const fs::path& journal) {
    std::ifstream in(journal, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    const std::array<char, 4> mark = std::bit_cast<std::array<char, 4>>(journal_format::record_mark);
    return bytes.find(std::string_view(mark.data(), mark.size())) == std::string::npos;
}

/// What could not be read may be of use to somebody who can repair it, and is out of the way of later starts.
fs::path set_aside(const fs::path& journal) {
    fs::path aside = journal;
    aside += ".damaged";
    std::error_code ignored; // then it stays where it is and is found once more
    fs::rename(journal, aside, ignored);
    return ignored ? journal : aside;
}

/// Calls visit(path) for each journal of the folder that no running program holds, which stays locked meanwhile.
void for_each_abandoned(const fs::path& folder, const std::function<void(const fs::path&)>& visit) {
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder, ignored)) {
        if (entry.path().extension() != ".journal") {
            continue;
        }
        const FileDescriptor lock = lock_abandoned(entry.path());
        if (lock.open()) {
            visit(entry.path());
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
    for_each_abandoned(folder, [&](const fs::path& journal) {
        if (!has_whole_head(journal) && holds_no_record(journal)) {
            remove_journal(journal);
            return;
        }
        try {
            JournalReader reader(journal);
            const std::uint64_t frames = frames_in(reader);
            const bool damaged = reader.damage().stretches > 0;
            if (frames == 0 && damaged) {
                found.unreadable.push_back(journal);
                return;
            }
            if (frames == 0 || is_take(reader.head().destination, reader.head().take_id)) {
                remove_half_written(reader.head().destination);
                remove_journal(journal);
                return;
            }
            found.takes.push_back({.journal = journal,
                                   .head = reader.head(),
                                   .duration_s = static_cast<double>(frames) / reader.head().format.sample_rate_hz});
        } catch (const InputError&) {
            found.unreadable.push_back(journal);
        }
    });
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
    if (found_damage(take.journal)) {
        const fs::path kept = set_aside(take.journal);
        if (finished) {
            finished->damaged_journal = kept;
        }
    } else {
        remove_journal(take.journal);
    }
    return finished;
}

std::size_t drop_unfinished(const fs::path& folder, const std::function<bool(const fs::path&)>& is_meant) {
    std::size_t dropped = 0;
    for_each_abandoned(folder, [&](const fs::path& journal) {
        try {
            if (is_meant(JournalReader(journal).head().destination)) {
                remove_journal(journal);
                ++dropped;
            }
        } catch (const InputError&) {
            return; // nobody can tell whose it is
        }
    });
    return dropped;
}

} // namespace retap::audio
