// Guards for files that a command writes.
#pragma once

#include <filesystem>
#include <vector>

namespace retap::commands {

/// Throws UsageError when `output` is one of `inputs`, by whatever name: writing it would destroy a recording.
void refuse_to_overwrite(const std::filesystem::path& output, const std::vector<std::filesystem::path>& inputs);

} // namespace retap::commands
