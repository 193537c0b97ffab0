// Guards for the files that a command is given.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace retap::commands {

/// Throws UsageError when `output` is one of `inputs`, by whatever name: writing it would destroy what they hold
/// (`what`).
void refuse_to_overwrite(const std::filesystem::path& output, const std::vector<std::filesystem::path>& inputs,
                         const std::string& what = "take");

/// The takes of one side, each once: named twice, a file would pass for a repeat without any scatter, and the answer
/// would look surer than it is. Says so on stderr.
[[nodiscard]] std::vector<std::filesystem::path> each_once(std::vector<std::filesystem::path> takes);

/// Files and folders made from here on are for the owner alone: recordings of patients and what is said of them are
/// health data.
void write_privately();

} // namespace retap::commands
