// One chairside server per store.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace retap::chairside {

/// Holds a lock beside the store while it lives; the system lets it go when the program ends, however it ends. The file
/// is private to the user and holds the opening address, so that a second start can point to the first.
class InstanceLock {
public:
    /// Throws StoreError when the file cannot be made.
    explicit InstanceLock(const std::filesystem::path& store);
    ~InstanceLock();
    InstanceLock(const InstanceLock&) = delete;
    InstanceLock& operator=(const InstanceLock&) = delete;

    [[nodiscard]] bool held() const { return held_; }
    /// The address of the server that holds it instead; empty when that has not written it yet.
    [[nodiscard]] std::string other_address() const;
    /// Writes our address for later starts. Only when held (asserted).
    void publish(const std::string& address);

private:
    std::filesystem::path path_;
    int descriptor_ = -1;
    bool held_ = false;
};

} // namespace retap::chairside
