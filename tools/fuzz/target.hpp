// What the fuzz targets share.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

/// What libFuzzer calls, and replay.cpp for what was found once. Returns 0; a fault ends the program.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace retap::fuzz {

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

/// The first line of `rest`, which is taken away from it.
inline std::string_view line_of(std::string_view& rest) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    const std::string_view line = rest.substr(0, end);
    rest.remove_prefix(std::min(end + 1, rest.size()));
    return line;
}

/// Ends the program with the claim that did not hold.
inline void must(bool holds, const char* claim) {
    if (!holds) {
        std::fprintf(stderr, "does not hold: %s\n", claim);
        std::abort();
    }
}

/// True for one input of sixteen, always the same ones, and for all that are replayed: for what takes long.
inline bool chosen(const std::uint8_t* data, std::size_t size) {
#ifdef RETAP_REPLAY
    static_cast<void>(data);
    static_cast<void>(size);
    return true;
#else
    constexpr unsigned one_in = 16;
    return std::hash<std::string_view>()(text_of(data, size)) % one_in == 0;
#endif
}

/// A folder for as long as the program runs, in memory where the system has such a place.
inline const std::filesystem::path& scratch() {
    struct Folder {
        Folder() {
            std::string name =
                std::filesystem::exists("/dev/shm") ? "/dev/shm/retap-fuzz-XXXXXX" : "/tmp/retap-fuzz-XXXXXX";
            must(mkdtemp(name.data()) != nullptr, "a temporary folder can be made");
            path = name;
        }
        ~Folder() {
            std::error_code ignored;
            std::filesystem::remove_all(path, ignored);
        }
        Folder(const Folder&) = delete;
        Folder& operator=(const Folder&) = delete;
        std::filesystem::path path;
    };
    static const Folder folder;
    return folder.path;
}

} // namespace retap::fuzz
