#include "chairside/instance_lock.hpp"

#include "error.hpp"

#include <array>
#include <cassert>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <fcntl.h>
#include <sstream>
#include <sys/file.h>
#include <unistd.h>

namespace retap::chairside {

InstanceLock::InstanceLock(const std::filesystem::path& store) : path_(store.string() + ".chairside") {
    descriptor_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
    if (descriptor_ < 0) {
        throw StoreError("Starting the chairside server: " + path_.string() + " cannot be made (" +
                         std::strerror(errno) + "). Check that the folder can be written to.");
    }
    held_ = ::flock(descriptor_, LOCK_EX | LOCK_NB) == 0;
}

InstanceLock::~InstanceLock() {
    if (held_) {
        // Emptied, not removed: removing would let two later starts lock two different files of one name.
        if (::ftruncate(descriptor_, 0) != 0) {
            held_ = false; // a stale address is only read while somebody holds the lock
        }
    }
    ::close(descriptor_);
}

InstanceLock::Published InstanceLock::published() const {
    std::array<char, 512> text{};
    const ssize_t got = ::pread(descriptor_, text.data(), text.size(), 0);
    std::istringstream lines(std::string(text.data(), got > 0 ? static_cast<std::size_t>(got) : 0));
    Published found;
    std::string port;
    if (!std::getline(lines, found.address) || !std::getline(lines, port) || !std::getline(lines, found.secrets)) {
        return {};
    }
    std::from_chars(port.data(), port.data() + port.size(), found.port);
    return found;
}

void InstanceLock::publish(const Published& ours) {
    assert(held_);
    const std::string text = ours.address + "\n" + std::to_string(ours.port) + "\n" + ours.secrets + "\n";
    if (::ftruncate(descriptor_, 0) != 0 ||
        ::pwrite(descriptor_, text.data(), text.size(), 0) != static_cast<ssize_t>(text.size())) {
        throw StoreError("Starting the chairside server: " + path_.string() + " cannot be written (" +
                         std::strerror(errno) + ").");
    }
}

} // namespace retap::chairside
