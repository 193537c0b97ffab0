// A program running beside the test. Ends with it.
#pragma once

#include <cerrno>
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace retap::test {

/// Where a program's output goes.
struct ChildOutput {
    std::filesystem::path out = "/dev/null";
    std::filesystem::path err = "/dev/null";
};

class ChildProcess {
public:
    /// Found by PATH; without input. `environment` ("NAME=value") is added to the test's own.
    explicit ChildProcess(std::vector<std::string> command, const ChildOutput& output = {},
                          std::vector<std::string> environment = {}) {
        std::vector<char*> argv;
        for (std::string& argument : command) {
            argv.push_back(argument.data());
        }
        argv.push_back(nullptr);
        pid_ = fork();
        if (pid_ < 0) {
            throw std::runtime_error("cannot fork");
        }
        if (pid_ == 0) {
            const int in = open("/dev/null", O_RDONLY);
            const int out = open(output.out.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
            const int err = open(output.err.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
            dup2(in, 0);
            dup2(out, 1);
            dup2(err, 2);
            for (std::string& setting : environment) {
                putenv(setting.data());
            }
            execvp(argv[0], argv.data());
            _exit(126);
        }
    }
    ~ChildProcess() {
        if (!status_) {
            send(SIGKILL);
            static_cast<void>(wait());
        }
    }
    ChildProcess(const ChildProcess&) = delete;
    ChildProcess& operator=(const ChildProcess&) = delete;

    [[nodiscard]] pid_t pid() const { return pid_; }
    /// Nothing is sent once it has ended: its number may be somebody else's by then.
    void send(int signal) const {
        if (!status_) {
            kill(pid_, signal);
        }
    }
    /// Exit status, or 128 + signal.
    int wait() {
        while (!status_) {
            look(0);
        }
        return *status_;
    }
    /// The status once it has ended.
    std::optional<int> poll() {
        if (!status_) {
            look(WNOHANG);
        }
        return status_;
    }

private:
    void look(int options) {
        int status = 0;
        const pid_t found = waitpid(pid_, &status, options);
        if (found == pid_) {
            status_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
        } else if (found < 0 && errno != EINTR) {
            status_ = -1;
        }
    }

    pid_t pid_ = -1;
    std::optional<int> status_;
};

/// Looks every few milliseconds until `is_so`; false when it takes longer than any machine should need.
template <class Condition>
[[nodiscard]] bool eventually(Condition is_so, std::chrono::seconds at_most = std::chrono::seconds(30)) {
    const auto until = std::chrono::steady_clock::now() + at_most;
    while (!is_so()) {
        if (std::chrono::steady_clock::now() > until) {
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return true;
}

} // namespace retap::test
