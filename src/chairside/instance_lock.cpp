#include "chairside/instance_lock.hpp"

#include "error.hpp"

#include <array>
#include <cassert>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
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

std::string InstanceLock::other_address() const {
    std::array<char, 256> text{};
    const ssize_t got = ::pread(descriptor_, text.data(), text.size(), 0);
    return got > 0 ? std::string(text.data(), static_cast<std::size_t>(got)) : std::string();
}

void InstanceLock::publish(const std::string& address) {
    assert(held_);
    if (::ftruncate(descriptor_, 0) != 0 ||
        ::pwrite(descriptor_, address.data(), address.size(), 0) != static_cast<ssize_t>(address.size())) {
        throw StoreError("Starting the chairside server: " + path_.string() + " cannot be written (" +
                         std::strerror(errno) + ").");
    }
}

} // namespace retap::chairside
