#include "aside_file.hpp"

#include "error.hpp"

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <string>
#include <string_view>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace retap {
namespace {

[[noreturn]] void refuse(const std::filesystem::path& destination, const std::string& fault) {
    throw InputError("Cannot write '" + destination.string() + "': " + fault + ". Choose another place or make room.");
}

[[noreturn]] void refuse_by_errno(const std::filesystem::path& destination) {
    refuse(destination, std::strerror(errno));
}

std::filesystem::path folder_of(const std::filesystem::path& file) {
    const auto folder = file.parent_path();
    return folder.empty() ? std::filesystem::path(".") : folder;
}

constexpr std::string_view mark = ".retap-part";
constexpr std::size_t random_part = 6;

/// Names have 255 bytes at most, and the destination's may be that long.
std::string beginning(const std::filesystem::path& destination) {
    constexpr std::size_t longest = 220;
    return "." + destination.filename().string().substr(0, longest) + ".";
}

/// The permissions a plain open() would have given; mkstemp gives fewer.
mode_t usual_permissions(const std::filesystem::path& destination) {
    struct stat found {};
    if (stat(destination.c_str(), &found) == 0) {
        return found.st_mode & 0777U;
    }
    const mode_t mask = umask(0);
    umask(mask);
    return 0666U & ~mask;
}

/// Makes the new name itself survive a loss of power. Some file systems cannot sync a folder; the file is whole anyway.
void sync_folder(const std::filesystem::path& folder) {
    const int descriptor = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor >= 0) {
        fsync(descriptor);
        close(descriptor);
    }
}

} // namespace

void refuse_dash(const std::filesystem::path& destination) {
    if (destination == "-") {
        throw UsageError("'-' is not taken for standard output. Name a file to write, ./- for one that is called so.");
    }
}

AsideFile::AsideFile(std::filesystem::path destination) : destination_(std::move(destination)) {
    refuse_dash(destination_);
    std::error_code ignored;
    if (destination_.filename().empty() || std::filesystem::is_directory(destination_, ignored)) {
        refuse(destination_, "it is a folder, not a file");
    }
    if (std::filesystem::exists(destination_, ignored) && !std::filesystem::is_regular_file(destination_, ignored)) {
        refuse(destination_, "it is not an ordinary file");
    }
    // A link is written through, as an ordinary open() would: its target is replaced, the link stays.
    if (const auto target = std::filesystem::canonical(destination_, ignored); !ignored) {
        destination_ = target;
    }
    std::string name = (folder_of(destination_) / (beginning(destination_) + "XXXXXX" + std::string(mark))).string();
    descriptor_ = mkostemps(name.data(), mark.size(), O_CLOEXEC);
    if (descriptor_ < 0) {
        refuse_by_errno(destination_);
    }
    aside_ = name;
    flock(descriptor_, LOCK_EX | LOCK_NB); // tells it from one whose program was killed; some file systems cannot
    fchmod(descriptor_, usual_permissions(destination_));
}

AsideFile::AsideFile(AsideFile&& other) noexcept
    : destination_(std::move(other.destination_)), aside_(std::exchange(other.aside_, {})),
      descriptor_(std::exchange(other.descriptor_, -1)) {}

AsideFile::~AsideFile() {
    discard();
}

void AsideFile::discard() noexcept {
    if (descriptor_ >= 0) {
        close(descriptor_);
        descriptor_ = -1;
    }
    if (!aside_.empty()) {
        unlink(aside_.c_str());
        aside_.clear();
    }
}

void AsideFile::write(std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor_, bytes.data(), bytes.size());
        if (written < 0) {
            if (errno == EINTR) {
                continue;
            }
            refuse_by_errno(destination_);
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
}

void AsideFile::commit(Existing existing) {
    if (fsync(descriptor_) != 0 || close(std::exchange(descriptor_, -1)) != 0) {
        refuse_by_errno(destination_);
    }
    move_into_place(existing);
    aside_.clear();
    sync_folder(folder_of(destination_));
}

void AsideFile::move_into_place(Existing existing) {
    if (existing == Existing::replace) {
        if (std::rename(aside_.c_str(), destination_.c_str()) != 0) {
            refuse_by_errno(destination_);
        }
        return;
    }
    if (renameat2(AT_FDCWD, aside_.c_str(), AT_FDCWD, destination_.c_str(), RENAME_NOREPLACE) == 0) {
        return;
    }
    // Where the file system cannot do that, a second name for the file does as well: link() refuses what exists.
    const bool linked = (errno == EINVAL || errno == ENOSYS) && link(aside_.c_str(), destination_.c_str()) == 0;
    if (!linked) {
        if (errno == EEXIST) {
            throw InputError("Cannot write '" + destination_.string() + "': it exists already. Choose another name.");
        }
        refuse_by_errno(destination_);
    }
    unlink(aside_.c_str());
}

void remove_half_written(const std::filesystem::path& destination) {
    const std::string begins = beginning(destination);
    std::error_code unreadable;
    for (const auto& entry : std::filesystem::directory_iterator(folder_of(destination), unreadable)) {
        const std::string name = entry.path().filename().string();
        if (!name.starts_with(begins) || !name.ends_with(mark) ||
            name.size() != begins.size() + random_part + mark.size()) {
            continue;
        }
        const int descriptor = open(entry.path().c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
        struct stat found {};
        if (descriptor >= 0 && fstat(descriptor, &found) == 0 && S_ISREG(found.st_mode) && found.st_uid == geteuid() &&
            flock(descriptor, LOCK_EX | LOCK_NB) == 0) {
            unlink(entry.path().c_str());
        }
        if (descriptor >= 0) {
            close(descriptor);
        }
    }
}

void write_file_whole(const std::filesystem::path& destination, std::string_view bytes) {
    AsideFile file(destination);
    file.write(bytes);
    file.commit();
}

} // namespace retap
