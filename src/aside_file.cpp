#include "aside_file.hpp"

#include "error.hpp"

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <string>
#include <sys/stat.h>
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
    std::string name = (folder_of(destination_) / ("." + destination_.filename().string() + ".XXXXXX")).string();
    descriptor_ = mkostemp(name.data(), O_CLOEXEC);
    if (descriptor_ < 0) {
        refuse_by_errno(destination_);
    }
    aside_ = name;
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

void write_file_whole(const std::filesystem::path& destination, std::string_view bytes) {
    AsideFile file(destination);
    file.write(bytes);
    file.commit();
}

} // namespace retap
