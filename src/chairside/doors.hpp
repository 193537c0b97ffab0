// Ways into a running server: tokens that open it once and for a short time.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <string_view>

namespace retap::chairside {

/// 128 random bits from the operating system, as text. Throws DeviceError when it gives none.
[[nodiscard]] std::string random_token();

/// A token is a file in a folder that is private to the user. Who can make one there could read the store as well, so a
/// second start of the program makes its own for the server that runs already. Nobody else can: the list of processes
/// shows the name of a page at most, never a token.
class Doors {
public:
    using Clock = std::chrono::system_clock;

    /// Makes the folder when it is missing, and private. Throws StoreError when it cannot, or when it is not ours.
    explicit Doors(std::filesystem::path folder);

    /// A token that opens once, and no longer than this. Throws StoreError.
    [[nodiscard]] std::string make(std::chrono::seconds life, Clock::time_point now = Clock::now());
    /// True once, for a token of ours whose time is not over.
    [[nodiscard]] bool open(std::string_view token, Clock::time_point now = Clock::now());
    /// A private page that leads to `address`, for a browser that is given its name instead of the address itself.
    /// Throws StoreError.
    [[nodiscard]] std::filesystem::path page_to(const std::string& address);
    /// Removes every token and page, as a server does that starts and one that ends.
    void clear() noexcept;

private:
    void put(const std::filesystem::path& file, std::string_view text) const;

    std::filesystem::path folder_;
};

/// The doors of the server of the store that is kept in this file.
[[nodiscard]] std::filesystem::path door_folder(const std::filesystem::path& store);
/// "http://127.0.0.1:PORT/open?token=..."
[[nodiscard]] std::string opening_address(int port, std::string_view token);

} // namespace retap::chairside
