#include "chairside/instance_lock.hpp"

#include "error.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cerrno>
#include <charconv>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <limits>
#include <string>
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

int InstanceLock::port() const {
    std::array<char, 16> text{};
    const ssize_t got = ::pread(descriptor_, text.data(), text.size(), 0);
    int port = 0;
    std::from_chars(text.data(), text.data() + std::max<ssize_t>(got, 0), port);
    return port > 0 && port <= std::numeric_limits<std::uint16_t>::max() ? port : 0;
}

void InstanceLock::publish(int port) {
    assert(held_);
    const std::string text = std::to_string(port) + "\n";
    if (::ftruncate(descriptor_, 0) != 0 ||
        ::pwrite(descriptor_, text.data(), text.size(), 0) != static_cast<ssize_t>(text.size())) {
        throw StoreError("Starting the chairside server: " + path_.string() + " cannot be written (" +
                         std::strerror(errno) + ").");
    }
}

} // namespace retap::chairside
