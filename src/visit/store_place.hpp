// Where the store is, and that nobody else can read it.
#pragma once

#include <filesystem>
#include <string>

namespace retap::visit {

/// `asked` (--store) when it is not empty, else RETAP_STORE, else $XDG_DATA_HOME/retap/visits.db, else
/// ~/.local/share/retap/visits.db. Throws UsageError when none of these says a place.
[[nodiscard]] std::filesystem::path store_file(const std::string& asked);

/// Whether the store is there and nothing can be written to it or beside it, as on a disk that is read-only.
[[nodiscard]] bool only_for_reading(const std::filesystem::path& file);

/// Makes the folder (0700) and the empty file (0600) if they are not there, and takes away what others may do with the
/// file if they are. Throws StoreError.
void make_private(const std::filesystem::path& file);

} // namespace retap::visit
