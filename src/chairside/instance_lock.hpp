// One chairside server per store.
#pragma once

#include <filesystem>

namespace retap::chairside {

/// Holds a lock beside the store while it lives; the system lets it go when the program ends, however it ends. The file
/// is private to the user and holds the port, so that a second start can lead to the first, and one after a kill can
/// take the same: pages that are still open find it then.
class InstanceLock {
public:
    /// Throws StoreError when the file cannot be made.
    explicit InstanceLock(const std::filesystem::path& store);
    ~InstanceLock();
    InstanceLock(const InstanceLock&) = delete;
    InstanceLock& operator=(const InstanceLock&) = delete;

    [[nodiscard]] bool held() const { return held_; }
    /// The port of the server that holds it instead, or, when held, of one that was killed. 0 when there is none.
    [[nodiscard]] int port() const;
    /// Writes ours for later starts. Only when held (asserted). Throws StoreError.
    void publish(int port);

private:
    std::filesystem::path path_;
    int descriptor_ = -1;
    bool held_ = false;
};

} // namespace retap::chairside
