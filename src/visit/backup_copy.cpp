#include "visit/backup_copy.hpp"

#include "error.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <random>
#include <string_view>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace retap::visit {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view mark = ".retap-backup.";
constexpr std::size_t random_length = 6;

bool is_copy(const fs::path& path) {
    const std::string name = path.filename().string();
    return name.starts_with('.') && name.size() > mark.size() + random_length &&
           std::string_view(name).substr(name.size() - random_length - mark.size(), mark.size()) == mark;
}

[[noreturn]] void fail(const fs::path& destination, int error) {
    throw StoreError("Cannot write the backup '" + destination.string() + "': " + std::strerror(error) +
                     ". Choose another name or place.");
}

} // namespace

BackupCopy::BackupCopy(const fs::path& destination) : destination_(fs::absolute(destination)) {
    std::string ending;
    std::random_device random;
    while (ending.size() < random_length) {
        ending += "0123456789abcdefghijklmnopqrstuv"[random() & 31U];
    }
    path_ =
        (destination_.parent_path() / ("." + destination_.filename().string() + std::string(mark) + ending)).string();
}

void BackupCopy::make() {
    descriptor_ = open(path_.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (descriptor_ < 0) {
        fail(destination_, errno);
    }
    flock(descriptor_, LOCK_EX | LOCK_NB); // nobody else knows the name yet
}

BackupCopy::~BackupCopy() {
    if (descriptor_ >= 0) {
        unlink(path_.c_str());
        close(descriptor_);
    }
}

void BackupCopy::keep() {
    // link() refuses what exists, on every file system that has it; the second name goes with this object.
    if (fsync(descriptor_) != 0 || link(path_.c_str(), destination_.c_str()) != 0) {
        fail(destination_, errno);
    }
}

bool remove_dead_copy(const fs::path& copy) {
    if (!is_copy(copy)) {
        return false;
    }
    const int descriptor = open(copy.c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    if (descriptor < 0) {
        return errno == ENOENT;
    }
    const bool dead = flock(descriptor, LOCK_EX | LOCK_NB) == 0;
    if (dead) {
        for (const char* beside : {"-journal", "-wal", "-shm"}) { // SQLite's, first, since the copy leads to them
            unlink((copy.string() + beside).c_str());
        }
    }
    const bool gone = dead && unlink(copy.c_str()) == 0;
    close(descriptor);
    return gone;
}

void remove_dead_copies(const fs::path& destination) {
    std::error_code unreadable; // then there is nothing to be done, and writing the backup says why
    for (const auto& file : fs::directory_iterator(fs::absolute(destination).parent_path(), unreadable)) {
        std::error_code gone;
        if (is_copy(file.path()) && file.is_regular_file(gone)) {
            (void)remove_dead_copy(file.path());
        }
    }
}

} // namespace retap::visit
