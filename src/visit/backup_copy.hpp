// The hidden file that a backup is until it is whole.
#pragma once

#include <filesystem>
#include <string>

namespace retap::visit {

/// A new file beside the destination, "." + its name + ".retap-backup." and six more characters, for the owner alone
/// and locked while this object lives. It goes away again unless it is kept. A program that is killed leaves it without
/// the lock, by which remove_dead_copies knows it.
class BackupCopy {
public:
    /// Chooses the name; there is no file yet, so that its name can be noted first.
    explicit BackupCopy(const std::filesystem::path& destination);
    ~BackupCopy();
    BackupCopy(const BackupCopy&) = delete;
    BackupCopy& operator=(const BackupCopy&) = delete;
    BackupCopy(BackupCopy&&) = delete;
    BackupCopy& operator=(BackupCopy&&) = delete;

    /// Absolute.
    [[nodiscard]] const std::string& path() const { return path_; }
    /// Makes the file, empty. Throws StoreError when nothing can be written there.
    void make();
    /// Reaches the disk, then takes the destination's name. Throws StoreError rather than replace what is there.
    void keep();

private:
    std::filesystem::path destination_;
    std::string path_;
    int descriptor_ = -1;
};

/// Removes the copy when nobody holds its lock; whether it is gone now. Other files are left alone.
bool remove_dead_copy(const std::filesystem::path& copy);
/// The same for every copy beside the destination, whatever it was a backup of.
void remove_dead_copies(const std::filesystem::path& destination);

} // namespace retap::visit
