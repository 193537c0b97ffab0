#include "audio/decoder_process.hpp"

#include "audio/decoder_wire.hpp"
#include "audio/file_descriptor.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <limits>
#include <spawn.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

namespace wire = decoder_wire;

/// Empty when there is none.
std::filesystem::path decoder_program() {
    std::error_code unknown; // then there is none
    const auto here = std::filesystem::read_symlink("/proc/self/exe", unknown).parent_path();
    for (const auto& place : {here / wire::program, here.parent_path() / "lib" / "retap" / wire::program}) {
        if (access(place.c_str(), X_OK) == 0) {
            return place;
        }
    }
    return {};
}

[[noreturn]] void refuse(const std::string& name, const std::string& fault, const std::string& try_this) {
    throw InputError("Cannot use '" + name + "': " + fault + ". " + try_this);
}

/// Of the environment only what finding the libraries needs, and what a sanitizer is told.
std::vector<char*> bare_environment() {
    std::vector<char*> kept;
    for (const char* name : {"LD_LIBRARY_PATH", "ASAN_OPTIONS", "UBSAN_OPTIONS"}) {
        if (const char* value = std::getenv(name)) {
            kept.push_back(strdup((std::string(name) + "=" + value).c_str()));
        }
    }
    kept.push_back(nullptr);
    return kept;
}

/// The running decoder: a pipe to read from, and a process that goes with this object.
class Decoder {
public:
    Decoder(int file, const std::string& name) {
        const std::string program = decoder_program().string();
        if (program.empty()) {
            refuse(name, "this Retap has no decoder for it", "Save it as WAV or FLAC.");
        }
        std::array<int, 2> ends{};
        if (pipe2(ends.data(), O_CLOEXEC) != 0) {
            refuse(name, std::string("no pipe could be made: ") + std::strerror(errno), "Close other programs.");
        }
        pipe_ = FileDescriptor(ends[0]);
        const FileDescriptor writing(ends[1]);
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        posix_spawn_file_actions_adddup2(&actions, file, STDIN_FILENO);
        posix_spawn_file_actions_adddup2(&actions, writing.get(), STDOUT_FILENO);
        posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
        std::string called = wire::program;
        std::array<char*, 2> arguments{called.data(), nullptr};
        std::vector<char*> environment = bare_environment();
        const int fault =
            posix_spawn(&process_, program.c_str(), &actions, nullptr, arguments.data(), environment.data());
        posix_spawn_file_actions_destroy(&actions);
        std::ranges::for_each(environment, [](char* text) { std::free(text); });
        if (fault != 0) {
            process_ = -1;
            refuse(name, std::string("its decoder cannot be started: ") + std::strerror(fault),
                   "Save it as WAV or FLAC.");
        }
    }
    ~Decoder() {
        if (process_ > 0) {
            kill(process_, SIGKILL);
            (void)wait();
        }
    }
    Decoder(const Decoder&) = delete;
    Decoder& operator=(const Decoder&) = delete;
    Decoder(Decoder&&) = delete;
    Decoder& operator=(Decoder&&) = delete;

    /// False when the decoder has ended before all of it came.
    [[nodiscard]] bool read(void* bytes, std::size_t count) const {
        auto* at = static_cast<char*>(bytes);
        while (count > 0) {
            const ssize_t got = ::read(pipe_.get(), at, count);
            if (got < 0 && errno == EINTR) {
                continue;
            }
            if (got <= 0) {
                return false;
            }
            at += got;
            count -= static_cast<std::size_t>(got);
        }
        return true;
    }

    /// Waits for its end; the status as waitpid gives it.
    int wait() {
        int status = 0;
        while (process_ > 0 && waitpid(process_, &status, 0) < 0 && errno == EINTR) {
        }
        process_ = -1;
        return status;
    }

private:
    FileDescriptor pipe_;
    pid_t process_ = -1;
};

template <std::size_t size>
std::string text_of(const std::array<char, size>& bytes) {
    const auto end = std::ranges::find(bytes, '\0');
    std::string text(bytes.begin(), end);
    std::ranges::replace_if(
        text, [](unsigned char c) { return c < ' ' || c > '~'; }, '?'); // it may be anything
    return text;
}

class DecodedFrames final : public FrameSource {
public:
    DecodedFrames(int file, std::string name) : name_(std::move(name)), decoder_(file, name_) {
        if (!decoder_.read(&head_, sizeof head_)) {
            broke();
        }
        const bool sane = head_.mark == wire::mark && head_.sample_rate_hz >= 0 && head_.channels >= 0 &&
                          head_.channels <= wire::most_channels;
        if (!sane) {
            refuse(name_, "its decoder does not answer as it should", "Save it as WAV or FLAC.");
        }
        next_block();
        if (head_.channels == 0) {
            refuse(name_, "it holds no sound at all", "Record it again.");
        }
    }

    [[nodiscard]] int sample_rate_hz() const override { return head_.sample_rate_hz; }
    [[nodiscard]] int channels() const override { return head_.channels; }
    /// Not known before the end.
    [[nodiscard]] std::int64_t frames() const override { return std::numeric_limits<std::int64_t>::max() / 2; }
    [[nodiscard]] bool length_is_a_guess() const override { return true; }
    [[nodiscard]] std::string codec() const override { return text_of(head_.codec); }
    [[nodiscard]] std::string comment() const override { return {}; }

    std::size_t read_frames(std::span<float> interleaved) override {
        const auto width = static_cast<std::size_t>(head_.channels);
        std::size_t done = 0;
        while (done < interleaved.size() && left_ > 0) {
            const std::size_t values = std::min(interleaved.size() - done, left_ * width);
            if (!decoder_.read(interleaved.data() + done, values * sizeof(float))) {
                broke();
            }
            done += values;
            left_ -= values / width;
            if (left_ == 0) {
                next_block();
            }
        }
        return done / width;
    }

private:
    void next_block() {
        wire::BlockHead head;
        if (!decoder_.read(&head, sizeof head)) {
            broke();
        }
        if (head.frames < 0) {
            wire::Fault fault;
            if (!decoder_.read(&fault, sizeof fault)) {
                broke();
            }
            refuse(name_, text_of(fault.text), "Copy or record it again, or save it as WAV or FLAC.");
        }
        left_ = static_cast<std::size_t>(std::min(head.frames, wire::most_frames));
    }

    /// The decoder is gone before it has said that it is done.
    [[noreturn]] void broke() {
        const int status = decoder_.wait();
        const int signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
        const std::string how = signal == SIGXCPU || signal == SIGKILL ? "decoding it took too long"
                                : signal == SIGSYS ? "it made its decoder ask for what it may not do"
                                                   : "it broke its decoder";
        refuse(name_, how + ", which was stopped; nothing else is harmed",
               "The file is damaged, or not what it says it is. Record it again.");
    }

    std::string name_;
    Decoder decoder_;
    wire::Head head_;
    std::size_t left_ = 0; ///< frames of the present block that were not read yet
};

} // namespace

bool can_decode_phones() {
    return !decoder_program().empty();
}

std::unique_ptr<FrameSource> decode_in_process(const std::filesystem::path& file) {
    const FileDescriptor open_file(open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
    if (open_file.get() < 0) {
        throw InputError("Cannot read '" + file.string() + "': " + std::strerror(errno) + ".");
    }
    return std::make_unique<DecodedFrames>(open_file.get(), file.string());
}

std::unique_ptr<FrameSource> decode_in_process(std::span<const std::byte> bytes, const std::string& name) {
    const FileDescriptor memory(memfd_create("retap", MFD_CLOEXEC));
    while (!bytes.empty()) {
        const ssize_t written = memory.get() < 0 ? -1 : write(memory.get(), bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written <= 0) {
            throw InputError("Cannot read '" + name + "': " + std::strerror(errno) + ".");
        }
        bytes = bytes.subspan(static_cast<std::size_t>(written));
    }
    return std::make_unique<DecodedFrames>(memory.get(), name);
}

} // namespace retap::audio
