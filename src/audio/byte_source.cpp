#include "audio/byte_source.hpp"

#include "error.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <string>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>

namespace retap::audio {
namespace {

class OpenFile {
public:
    explicit OpenFile(const std::filesystem::path& path) : descriptor_(open(path.c_str(), O_RDONLY | O_CLOEXEC)) {}
    ~OpenFile() {
        if (descriptor_ >= 0) {
            close(descriptor_);
        }
    }
    OpenFile(OpenFile&& other) noexcept : descriptor_(std::exchange(other.descriptor_, -1)) {}
    OpenFile& operator=(OpenFile&&) = delete;
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    [[nodiscard]] int get() const { return descriptor_; }

private:
    int descriptor_;
};

class FileSource final : public ByteSource {
public:
    FileSource(OpenFile file, std::uint64_t size, std::string name)
        : file_(std::move(file)), size_(size), name_(std::move(name)) {}

    [[nodiscard]] std::uint64_t size() const override { return size_; }

    std::size_t read_at(std::uint64_t offset, std::span<std::byte> bytes) const override {
        std::size_t done = 0;
        while (done < bytes.size()) {
            const auto rest = bytes.subspan(done);
            const ssize_t got = pread(file_.get(), rest.data(), rest.size(), static_cast<off_t>(offset + done));
            if (got == 0) {
                break;
            }
            if (got > 0) {
                done += static_cast<std::size_t>(got);
            } else if (errno != EINTR) {
                throw InputError("Cannot read '" + name_ + "': " + std::strerror(errno) +
                                 ". Copy it to another disk and try again.");
            }
        }
        return done;
    }

private:
    OpenFile file_;
    std::uint64_t size_;
    std::string name_;
};

class MemorySource final : public ByteSource {
public:
    explicit MemorySource(std::span<const std::byte> bytes) : bytes_(bytes) {}

    [[nodiscard]] std::uint64_t size() const override { return bytes_.size(); }

    std::size_t read_at(std::uint64_t offset, std::span<std::byte> bytes) const override {
        if (offset >= bytes_.size()) {
            return 0;
        }
        const auto rest = bytes_.subspan(static_cast<std::size_t>(offset));
        const std::size_t count = std::min(rest.size(), bytes.size());
        std::copy_n(rest.begin(), count, bytes.begin());
        return count;
    }

private:
    std::span<const std::byte> bytes_;
};

} // namespace

std::unique_ptr<ByteSource> open_file(const std::filesystem::path& path) {
    const auto refuse = [&path](const std::string& fault) {
        throw InputError("Cannot read '" + path.string() + "': " + fault);
    };
    if (path == "-") {
        refuse("sound is read from files, not from standard input. Save it to a file first.");
    }
    struct stat found {};
    // Asked before opening: opening a pipe would wait for its other end.
    if (stat(path.c_str(), &found) != 0) {
        refuse(errno == ENOENT ? "there is no such file. Check the name and the folder."
                               : std::string(std::strerror(errno)) + ". Check the name and the folder.");
    }
    if (S_ISDIR(found.st_mode)) {
        refuse("it is a folder. Name one sound file in it.");
    }
    if (!S_ISREG(found.st_mode)) {
        refuse("it is not an ordinary file. Save the sound to a file first.");
    }
    OpenFile file(path);
    if (file.get() < 0) {
        refuse(std::string(std::strerror(errno)) + ". Ask for the right to read it, or copy it to a folder of yours.");
    }
    if (found.st_size == 0) {
        refuse("the file is empty. Record or copy it again.");
    }
    return std::make_unique<FileSource>(std::move(file), static_cast<std::uint64_t>(found.st_size), path.string());
}

std::unique_ptr<ByteSource> open_memory(std::span<const std::byte> bytes) {
    return std::make_unique<MemorySource>(bytes);
}

} // namespace retap::audio
