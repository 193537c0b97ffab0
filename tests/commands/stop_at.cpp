// Loaded into a program (LD_PRELOAD), kills it at one of the calls by which it changes files, as a power cut or a kill
// would: RETAP_STOP_AT=3 is the third, before it happens; "3half" lets half of its bytes through when it writes. With
// RETAP_STOP_COUNT=FILE the number of calls is written there when the program ends by itself. Only files below
// RETAP_STOP_UNDER count. What it cannot show: a disk that loses or reorders what was not synced.
#include <array>
#include <atomic>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <dlfcn.h>
#include <fcntl.h>
#include <string_view>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

namespace {

std::atomic<long> calls{0};

long stop_at() {
    static const long at = [] {
        const char* text = std::getenv("RETAP_STOP_AT");
        return text == nullptr ? 0 : std::strtol(text, nullptr, 10);
    }();
    return at;
}

bool half_first() {
    static const bool half = [] {
        const char* text = std::getenv("RETAP_STOP_AT");
        return text != nullptr && std::strstr(text, "half") != nullptr;
    }();
    return half;
}

bool counts(std::string_view path) {
    static const char* const under = std::getenv("RETAP_STOP_UNDER");
    return under != nullptr && path.starts_with(under);
}

bool counts(int descriptor) {
    std::array<char, 64> link{};
    std::array<char, 4096> path{};
    std::snprintf(link.data(), link.size(), "/proc/self/fd/%d", descriptor);
    const ssize_t length = readlink(link.data(), path.data(), path.size());
    return length > 0 && counts(std::string_view(path.data(), static_cast<std::size_t>(length)));
}

/// True when this call is the one.
bool due(bool relevant) {
    return relevant && ++calls == stop_at();
}

[[noreturn]] void stop() {
    kill(getpid(), SIGKILL);
    for (;;) {
        pause();
    }
}

template <class Function>
Function next(const char* name) {
    return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name));
}

struct AtTheEnd {
    ~AtTheEnd() {
        if (const char* file = std::getenv("RETAP_STOP_COUNT")) {
            if (std::FILE* out = std::fopen(file, "w")) {
                std::fprintf(out, "%ld\n", calls.load());
                std::fclose(out);
            }
        }
    }
} const at_the_end;

} // namespace

extern "C" {

ssize_t write(int descriptor, const void* bytes, std::size_t count) {
    static const auto real = next<ssize_t (*)(int, const void*, std::size_t)>("write");
    if (due(counts(descriptor))) {
        if (half_first()) {
            static_cast<void>(real(descriptor, bytes, count / 2));
        }
        stop();
    }
    return real(descriptor, bytes, count);
}

ssize_t writev(int descriptor, const iovec* parts, int count) {
    static const auto real = next<ssize_t (*)(int, const iovec*, int)>("writev");
    if (due(counts(descriptor))) {
        if (half_first() && count > 1) {
            static_cast<void>(real(descriptor, parts, count / 2));
        }
        stop();
    }
    return real(descriptor, parts, count);
}

ssize_t pwrite64(int descriptor, const void* bytes, std::size_t count, off64_t offset) {
    static const auto real = next<ssize_t (*)(int, const void*, std::size_t, off64_t)>("pwrite64");
    if (due(counts(descriptor))) {
        if (half_first()) {
            static_cast<void>(real(descriptor, bytes, count / 2, offset));
        }
        stop();
    }
    return real(descriptor, bytes, count, offset);
}

ssize_t pwrite(int descriptor, const void* bytes, std::size_t count, off_t offset) {
    return pwrite64(descriptor, bytes, count, offset);
}

int fsync(int descriptor) {
    static const auto real = next<int (*)(int)>("fsync");
    return due(counts(descriptor)) ? (stop(), -1) : real(descriptor);
}

int fdatasync(int descriptor) {
    static const auto real = next<int (*)(int)>("fdatasync");
    return due(counts(descriptor)) ? (stop(), -1) : real(descriptor);
}

int ftruncate64(int descriptor, off64_t length) {
    static const auto real = next<int (*)(int, off64_t)>("ftruncate64");
    return due(counts(descriptor)) ? (stop(), -1) : real(descriptor, length);
}

int ftruncate(int descriptor, off_t length) {
    return ftruncate64(descriptor, length);
}

int rename(const char* from, const char* to) {
    static const auto real = next<int (*)(const char*, const char*)>("rename");
    return due(counts(std::string_view(to))) ? (stop(), -1) : real(from, to);
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) {
    static const auto real = next<int (*)(int, const char*, int, const char*, unsigned)>("renameat2");
    return due(counts(std::string_view(to))) ? (stop(), -1) : real(from_folder, from, to_folder, to, flags);
}

int link(const char* from, const char* to) {
    static const auto real = next<int (*)(const char*, const char*)>("link");
    return due(counts(std::string_view(to))) ? (stop(), -1) : real(from, to);
}

int unlink(const char* path) {
    static const auto real = next<int (*)(const char*)>("unlink");
    return due(counts(std::string_view(path))) ? (stop(), -1) : real(path);
}

int remove(const char* path) {
    static const auto real = next<int (*)(const char*)>("remove");
    return due(counts(std::string_view(path))) ? (stop(), -1) : real(path);
}

} // extern "C"
