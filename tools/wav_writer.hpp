// 32-bit float WAV, for the generators only.
#pragma once

#include <filesystem>
#include <vector>

namespace retap::tools {

/// Writes `channels` (equally long, at least one) as a float WAV. Throws std::runtime_error naming the file.
void write_float_wav(const std::filesystem::path& path, double sample_rate_hz,
                     const std::vector<std::vector<float>>& channels);

} // namespace retap::tools
