// The table that batch writes: one row per file.
#pragma once

#include "compare/compare_takes.hpp"
#include "dsp/base/take.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace retap::commands {

/// What became of one file: its take, or why there is none.
struct BatchResult {
    std::filesystem::path file;
    std::optional<dsp::TakeAnalysis> take;
    std::string error;
};

/// Comma-separated values (RFC 4180, lines ending in LF), first line the names of the columns as FORMATS.md describes
/// them. The measures' columns are those that any of the takes has; absent values are empty.
[[nodiscard]] std::string batch_csv(const std::vector<BatchResult>& results);

} // namespace retap::commands
