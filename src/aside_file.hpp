// Output files that appear whole or not at all.
#pragma once

#include <filesystem>
#include <string_view>

namespace retap {

/// What happens when the destination exists.
enum class Existing {
    replace,
    refuse ///< InputError at commit(), and the file that was there stays as it is
};

/// A file written beside its destination and moved onto it by commit(), after its bytes have reached the disk. Until
/// then the destination is untouched; without commit() nothing of it remains. Readers see the old file or the new one,
/// never a part. The file beside is hidden, has our mark in its name and is locked while it is written; a killed
/// program leaves it there for remove_half_written(). A file that replaces another keeps its permissions; a new one
/// gets the usual ones (umask). Throws InputError when the place cannot be written to or the disk is full, UsageError
/// when the destination is "-".
class AsideFile {
public:
    explicit AsideFile(std::filesystem::path destination);
    ~AsideFile();
    AsideFile(AsideFile&& other) noexcept;
    AsideFile& operator=(AsideFile&&) = delete;
    AsideFile(const AsideFile&) = delete;
    AsideFile& operator=(const AsideFile&) = delete;

    /// Open for reading and writing from the start; stays ours to close.
    [[nodiscard]] int descriptor() const { return descriptor_; }
    [[nodiscard]] const std::filesystem::path& destination() const { return destination_; }
    void write(std::string_view bytes);
    /// Syncs, moves into place and syncs the folder. Call once; nothing may be written after it.
    void commit(Existing existing = Existing::replace);

private:
    void move_into_place(Existing existing);
    void discard() noexcept;

    std::filesystem::path destination_;
    std::filesystem::path aside_;
    int descriptor_ = -1;
};

/// Throws UsageError for "-": elsewhere that means standard output, and a file of that name would surprise.
void refuse_dash(const std::filesystem::path& destination);

/// Removes what killed programs left of writing to `destination`: files with our mark, of this user, that nobody
/// writes.
void remove_half_written(const std::filesystem::path& destination);

/// Writes `bytes` to `destination`, whole or not at all.
void write_file_whole(const std::filesystem::path& destination, std::string_view bytes);

} // namespace retap
