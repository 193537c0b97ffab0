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
    /// What the holder published: that of the server that holds it instead, or, when held, what a killed one left
    /// behind. Empty when there is nothing.
    struct Published {
        std::string address{};
        int port = 0;
        std::string secrets{};
    };
    [[nodiscard]] Published published() const;
    /// Writes ours for later starts. Only when held (asserted). Throws StoreError.
    void publish(const Published& ours);

private:
    std::filesystem::path path_;
    int descriptor_ = -1;
    bool held_ = false;
};

} // namespace retap::chairside
