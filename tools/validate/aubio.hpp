// The rival for finding taps: aubio's onset program, run beside ours when the machine has it (Debian: aubio-tools).
#pragma once

#include <filesystem>
#include <vector>

namespace retap::validate {

[[nodiscard]] bool aubio_is_here();

/// Onsets in seconds from `aubioonset -B 512 -H 64`, ascending; one at 0, which it reports at the start of many files,
/// is left out. Throws std::runtime_error when the program fails. The path must hold no quotes (asserted).
[[nodiscard]] std::vector<double> aubio_onsets_s(const std::filesystem::path& file);

} // namespace retap::validate
