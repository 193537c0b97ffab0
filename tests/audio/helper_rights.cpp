// The process that decodes can do nothing else.
#include "audio/helper_rights.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace retap::audio;

namespace {

/// The status, as waitpid gives it, of a process that gives up its rights and then does `deed`; it ends with 0 when the
/// deed was done.
template <class Deed>
int outcome_of(Deed deed, const HelperLimits& limits = {}) {
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        for (const int signal : {SIGABRT, SIGSYS, SIGXCPU}) {
            std::signal(signal, SIG_DFL); // not the test's own
        }
        give_up_rights(limits);
        _exit(deed() ? 0 : 1);
    }
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    return status;
}

bool done(int status) {
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

} // namespace

TEST_CASE("what decoding needs goes on: memory, computing, reading and writing what is open, and ending") {
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    CHECK(done(outcome_of([&] {
        auto* memory = static_cast<volatile char*>(std::malloc(1 << 24));
        memory[1 << 23] = 'x';
        const char byte = memory[1 << 23];
        return write(ends[1], &byte, 1) == 1;
    })));
    char byte = 0;
    CHECK(read(ends[0], &byte, 1) == 1);
    CHECK(byte == 'x');
    close(ends[0]);
    close(ends[1]);
}

#if defined(__linux__) && !defined(__SANITIZE_ADDRESS__)
TEST_CASE("files, the network, other programs and new code are out of reach") {
    CHECK_FALSE(done(outcome_of([] { return open("/etc/hostname", O_RDONLY) >= 0; })));
    CHECK_FALSE(done(outcome_of([] { return open("/tmp/retap-must-not-be", O_WRONLY | O_CREAT, 0600) >= 0; })));
    CHECK(access("/tmp/retap-must-not-be", F_OK) != 0);
    CHECK_FALSE(done(outcome_of([] { return socket(AF_INET, SOCK_STREAM, 0) >= 0; })));
    CHECK_FALSE(done(outcome_of([] { return fork() >= 0; })));
    CHECK_FALSE(done(outcome_of([] { return kill(getppid(), 0) == 0; })));
    CHECK_FALSE(done(outcome_of(
        [] { return mmap(nullptr, 4096, PROT_READ | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0) != MAP_FAILED; })));
}

TEST_CASE("memory and time have an end") {
    const HelperLimits small{.memory_bytes = std::uint64_t{1} << 28U, .processor_s = 1};
    CHECK_FALSE(done(outcome_of([] { return std::malloc(std::size_t{1} << 29U) != nullptr; }, small)));
    const int status = outcome_of(
        [] {
            for (std::atomic<unsigned> n = 0;; ++n) {
            }
            return true;
        },
        small);
    CHECK(WIFSIGNALED(status));
}
#endif
