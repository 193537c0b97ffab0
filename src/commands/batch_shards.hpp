// A folder of many takes, worked through in parts by several programs, and their tables put together again.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

namespace retap::commands {

/// Part `number` of `of`, counted from 1.
struct Shard {
    std::size_t number = 1;
    std::size_t of = 1;
};

/// "3/100". Throws UsageError for anything else.
[[nodiscard]] Shard shard_from(const std::string& text);

/// Those files that belong to the part. A file belongs to it by its name alone (FNV-1a, 64 bits), so that it stays
/// there when others come or go, on every machine; parts are alike in size only roughly, by chance.
[[nodiscard]] std::vector<std::filesystem::path> files_of(const Shard& shard,
                                                          const std::vector<std::filesystem::path>& files);

/// One table of several that batch wrote: rows in order of file names, columns as in the first, then those that only
/// later ones have; what a table did not have is empty. Throws InputError, which names the table, for one that batch
/// did not write, and for a file that stands in two of them.
struct TablePart {
    std::string name;
    std::string text;
};
[[nodiscard]] std::string merged_tables(const std::vector<TablePart>& parts);

} // namespace retap::commands
