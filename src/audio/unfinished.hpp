// Takes that an interrupted recording left behind.
#pragma once

#include "audio/finish_take.hpp"
#include "audio/journal.hpp"

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace retap::audio {

/// Where running recordings are kept: retap/unfinished in XDG_STATE_HOME, or in ~/.local/state. Not created.
/// Throws InputError when neither is known.
[[nodiscard]] std::filesystem::path unfinished_folder();

struct UnfinishedTake {
    std::filesystem::path journal;
    JournalHead head;
    double duration_s = 0.0;
};

struct UnfinishedTakes {
    std::vector<UnfinishedTake> takes;             ///< by time of start
    std::vector<std::filesystem::path> unreadable; ///< damaged, and no sound can be had of them; left where they are
};

/// Looks through `folder`, which need not exist. Passes over recordings that still run. Journals that hold no sound,
/// and those whose take was finished before they could be removed, are removed.
[[nodiscard]] UnfinishedTakes find_unfinished(const std::filesystem::path& folder);

/// Writes the take and removes its journal; one that is damaged is kept beside, under a name that ends in ".damaged",
/// and the take says what it lacks. It goes to `destination`, or else to where it was meant to go; when that
/// name is taken, to the same name with -recovered-1 (or the next free number) added. Nothing when no tap is in
/// it, and when somebody else has recovered it meanwhile. Throws InputError; the journal then stays.
[[nodiscard]] std::optional<FinishedTake> recover(const UnfinishedTake& take,
                                                  const std::optional<std::filesystem::path>& destination);

/// Removes the journals of recordings that no longer run and whose destination `is_meant`. Returns how many.
std::size_t drop_unfinished(const std::filesystem::path& folder,
                            const std::function<bool(const std::filesystem::path&)>& is_meant);

} // namespace retap::audio
