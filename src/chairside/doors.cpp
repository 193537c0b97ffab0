#include "chairside/doors.hpp"

#include "error.hpp"

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace retap::chairside {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view digits = "0123456789abcdef";
constexpr std::size_t token_length = 32;

[[noreturn]] void fail(const fs::path& place, const std::string& fault) {
    throw StoreError("Opening the page: " + place.string() + ": " + fault +
                     ". Check that the folder is yours and can be written to.");
}

std::int64_t seconds_of(Doors::Clock::time_point time) {
    return std::chrono::duration_cast<std::chrono::seconds>(time.time_since_epoch()).count();
}

} // namespace

std::string random_token() {
    std::array<std::uint8_t, token_length / 2> bytes{};
    if (getentropy(bytes.data(), bytes.size()) != 0) {
        throw DeviceError(
            "Starting the chairside server: the system gives no random numbers, so it cannot be kept safe.");
    }
    std::string token;
    for (const std::uint8_t byte : bytes) {
        token += digits[byte >> 4U];
        token += digits[byte & 15U];
    }
    return token;
}

Doors::Doors(fs::path folder) : folder_(std::move(folder)) {
    if (::mkdir(folder_.c_str(), S_IRWXU) != 0 && errno != EEXIST) {
        fail(folder_, std::strerror(errno));
    }
    struct stat found {};
    if (::lstat(folder_.c_str(), &found) != 0 || !S_ISDIR(found.st_mode) || found.st_uid != geteuid()) {
        fail(folder_, "it is no folder of yours");
    }
    if (::chmod(folder_.c_str(), S_IRWXU) != 0) {
        fail(folder_, std::strerror(errno));
    }
}

void Doors::put(const fs::path& file, std::string_view text) const {
    const int descriptor =
        ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, S_IRUSR | S_IWUSR);
    const bool written =
        descriptor >= 0 && ::write(descriptor, text.data(), text.size()) == static_cast<ssize_t>(text.size());
    const int error = errno;
    if (descriptor >= 0) {
        ::close(descriptor);
    }
    if (!written) {
        fail(file, std::strerror(error));
    }
}

std::string Doors::make(std::chrono::seconds life, Clock::time_point now) {
    std::string token = random_token();
    put(folder_ / token, std::to_string(seconds_of(now + life)));
    return token;
}

bool Doors::open(std::string_view token, Clock::time_point now) {
    if (token.size() != token_length || token.find_first_not_of(digits) != std::string_view::npos) {
        return false;
    }
    const fs::path file = folder_ / token;
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW);
    if (descriptor < 0) {
        return false;
    }
    std::array<char, 24> until{};
    const ssize_t got = ::read(descriptor, until.data(), until.size() - 1);
    ::close(descriptor);
    // Of two who come with one token, only one can remove it.
    const bool first = ::unlink(file.c_str()) == 0;
    return first && got > 0 && seconds_of(now) <= std::strtoll(until.data(), nullptr, 10);
}

fs::path Doors::page_to(const std::string& address) {
    const fs::path page = folder_ / (random_token() + ".html");
    put(page, "<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Retap</title>"
              "<meta name=\"referrer\" content=\"no-referrer\"><meta http-equiv=\"refresh\" content=\"0; url=" +
                  address + "\"></head><body><a href=\"" + address + "\">Open Retap</a></body></html>");
    return page;
}

void Doors::clear() noexcept {
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder_, ignored)) {
        std::error_code stays;
        fs::remove(entry.path(), stays);
    }
}

fs::path door_folder(const fs::path& store) {
    return store.string() + ".doors";
}

std::string opening_address(int port, std::string_view token) {
    return "http://127.0.0.1:" + std::to_string(port) + "/open?token=" + std::string(token);
}

} // namespace retap::chairside
