// Bytes that can be read from anywhere: a file on disk or a block of memory.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>

namespace retap::audio {

class ByteSource {
public:
    virtual ~ByteSource() = default;
    [[nodiscard]] virtual std::uint64_t size() const = 0;
    /// Fills `bytes` from `offset`; returns how many there were, fewer only at the end.
    /// Throws InputError when the disk fails.
    virtual std::size_t read_at(std::uint64_t offset, std::span<std::byte> bytes) const = 0;
};

/// Throws InputError when `path` is missing, a folder or anything else but an ordinary file, may not be read, or is
/// empty.
[[nodiscard]] std::unique_ptr<ByteSource> open_file(const std::filesystem::path& path);
/// `bytes` must outlive the source.
[[nodiscard]] std::unique_ptr<ByteSource> open_memory(std::span<const std::byte> bytes);

} // namespace retap::audio
