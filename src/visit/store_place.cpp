#include "visit/store_place.hpp"

#include "error.hpp"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace retap::visit {

namespace {

std::string environment(const char* name) {
    const char* value = std::getenv(name);
    return value == nullptr ? std::string() : std::string(value);
}

[[noreturn]] void fail(const std::filesystem::path& file, const std::string& why) {
    throw StoreError("Cannot open the visit store '" + file.string() + "': " + why +
                     ". Choose another place with --store or RETAP_STORE.");
}

/// Folders that are not there yet, each for the owner alone.
void make_folders(const std::filesystem::path& folder, const std::filesystem::path& file) {
    if (folder.empty() || std::filesystem::exists(folder)) {
        return;
    }
    make_folders(folder.parent_path(), file);
    if (mkdir(folder.c_str(), S_IRWXU) != 0 && errno != EEXIST) {
        fail(file, std::strerror(errno));
    }
}

} // namespace

std::filesystem::path store_file(const std::string& asked) {
    if (!asked.empty()) {
        return asked;
    }
    if (const std::string named = environment("RETAP_STORE"); !named.empty()) {
        return named;
    }
    std::filesystem::path data = environment("XDG_DATA_HOME");
    if (!data.is_absolute()) { // the specification says to ignore relative ones
        const std::string home = environment("HOME");
        if (home.empty()) {
            throw UsageError("It is not known where to keep visits: HOME is not set. Use --store or RETAP_STORE.");
        }
        data = std::filesystem::path(home) / ".local" / "share";
    }
    return data / "retap" / "visits.db";
}

bool only_for_reading(const std::filesystem::path& file) {
    std::error_code unknown;
    const auto may_write = [](const std::filesystem::path& path) {
        return faccessat(AT_FDCWD, path.c_str(), W_OK, AT_EACCESS) == 0;
    };
    const std::filesystem::path folder = file.has_parent_path() ? file.parent_path() : ".";
    return std::filesystem::is_regular_file(file, unknown) && !(may_write(file) && may_write(folder));
}

void make_private(const std::filesystem::path& file) {
    try {
        make_folders(file.parent_path(), file);
    } catch (const std::filesystem::filesystem_error& error) {
        fail(file, error.code().message());
    }
    // By name only: closing a descriptor of the file would drop the locks that this process holds on it elsewhere.
    if (mknod(file.c_str(), S_IFREG | S_IRUSR | S_IWUSR, 0) == 0) {
        return;
    }
    struct stat state {};
    if (errno != EEXIST || stat(file.c_str(), &state) != 0) {
        fail(file, std::strerror(errno));
    }
    if (!S_ISREG(state.st_mode)) {
        fail(file, "it is not a file");
    }
    const bool others = (state.st_mode & static_cast<mode_t>(S_IRWXG | S_IRWXO)) != 0;
    if (others && chmod(file.c_str(), S_IRUSR | S_IWUSR) != 0) {
        fail(file, std::string("it cannot be made private: ") + std::strerror(errno));
    }
}

} // namespace retap::visit
