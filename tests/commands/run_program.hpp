// Runs the built program as a person's shell would.
#pragma once

#include "paths.hpp"
#include "temp_folder.hpp"

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <stdexcept>
#include <string>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>
#include <vector>

namespace retap::test {

struct Outcome {
    int status = -1; ///< exit status, or 128 + signal as a shell shows it
    std::string out{};
    std::string err{};
    long peak_kb = 0; ///< most memory it held
};

/// Where the program's stdout goes, when not into Outcome::out.
struct Redirect {
    std::string out_path{}; ///< opened for writing; empty: captured
    bool close_out = false;
    bool broken_pipe = false;  ///< a pipe whose reader has gone
    bool err_terminal = false; ///< stderr is a terminal; what was written to it is read when the program has ended
};

/// `retap ARGUMENTS...` in `folder`, without a terminal and without input. The home it finds is empty and gone
/// afterwards, so that nothing is read from or left in a person's own.
inline Outcome run_retap(const std::filesystem::path& folder, std::vector<std::string> arguments,
                         const Redirect& redirect = {}) {
    const TempFolder capture;
    const std::string out_path = redirect.out_path.empty() ? (capture / "out").string() : redirect.out_path;
    const std::string err_path = (capture / "err").string();
    const TempFolder home_folder;
    const std::string home = home_folder.path().string();
    arguments.insert(arguments.begin(), "retap");
    const std::string program = retap::test::binary_dir() + "/retap"; // nothing may allocate after the fork
    std::vector<char*> argv;
    for (std::string& argument : arguments) {
        argv.push_back(argument.data());
    }
    argv.push_back(nullptr);
    // The kernel keeps some kilobytes for a terminal that nobody reads yet: enough for these tests.
    const int terminal = redirect.err_terminal ? posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC) : -1;
    const pid_t child = fork();
    if (child < 0) {
        throw std::runtime_error("cannot fork");
    }
    if (child == 0) {
        constexpr int cannot_start = 126;
        const int in = open("/dev/null", O_RDONLY);
        const int out = open(out_path.c_str(), O_WRONLY | O_CREAT, 0600);
        const int err = redirect.err_terminal && grantpt(terminal) == 0 && unlockpt(terminal) == 0
                            ? open(ptsname(terminal), O_WRONLY | O_NOCTTY)
                            : open(err_path.c_str(), O_WRONLY | O_CREAT, 0600);
        if (chdir(folder.c_str()) != 0 || dup2(in, 0) < 0 || dup2(out, 1) < 0 || dup2(err, 2) < 0) {
            _exit(cannot_start);
        }
        if (redirect.close_out) {
            close(1);
        }
        std::array<int, 2> ends{};
        if (redirect.broken_pipe && (pipe(ends.data()) != 0 || close(ends[0]) != 0 || dup2(ends[1], 1) < 0)) {
            _exit(cannot_start);
        }
        if (setenv("HOME", home.c_str(), 1) != 0 || unsetenv("XDG_DATA_HOME") != 0 || unsetenv("RETAP_STORE") != 0) {
            _exit(cannot_start);
        }
        signal(SIGPIPE, SIG_DFL); // whatever the test's own parent thinks of it
        execv(program.c_str(), argv.data());
        _exit(cannot_start);
    }
    int status = 0;
    rusage used{};
    while (wait4(child, &status, 0, &used) < 0 && errno == EINTR) {
    }
    std::string err;
    if (redirect.err_terminal) {
        std::array<char, 8192> block{};
        for (ssize_t got = read(terminal, block.data(), block.size()); got > 0;
             got = read(terminal, block.data(), block.size())) {
            err.append(block.data(), static_cast<std::size_t>(got));
        }
        close(terminal);
    } else {
        err = bytes_of(err_path);
    }
    constexpr int signalled = 128;
    return {.status = WIFEXITED(status) ? WEXITSTATUS(status) : signalled + WTERMSIG(status),
            .out = redirect.out_path.empty() ? bytes_of(out_path) : "",
            .err = err,
            .peak_kb = used.ru_maxrss};
}

} // namespace retap::test
