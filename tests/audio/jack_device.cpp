// Through a JACK server without a sound card: it runs at one rate and refuses the others, and when it dies PortAudio's
// closing never returns.
#include "audio/file_descriptor.hpp"
#include "audio/port_audio.hpp"
#include "audio/recorder.hpp"
#include "child_process.hpp"
#include "error.hpp"
#include "temp_folder.hpp"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <doctest/doctest.h>
#include <fcntl.h>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <sys/file.h>
#include <system_error>
#include <unistd.h>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;
using namespace std::chrono_literals;

namespace {

class JackServer {
public:
    JackServer() : name_("retap" + std::to_string(getpid())) {
        REQUIRE(turn_.open());
        REQUIRE(flock(turn_.get(), LOCK_EX) == 0);
        setenv("JACK_NO_AUDIO_RESERVATION", "1", 1);
        setenv("JACK_NO_START_SERVER", "1", 1);
        setenv("JACK_DEFAULT_SERVER", name_.c_str(), 1);
        // No ALSA device, but a default that cannot be opened: PortAudio 19.6 aborts without one.
        put_bytes(folder_ / "asound.conf", "pcm.default { type hw card 9 }\n");
        setenv("ALSA_CONFIG_PATH", (folder_ / "asound.conf").c_str(), 1);
        // Few ports: room for thousands would fill the 64 MB of shared memory that a container usually has.
        server_ = std::make_unique<ChildProcess>(
            std::vector<std::string>{"jackd", "-r", "-p", "64", "-n", name_, "-d", "dummy", "-r", "48000", "-p", "256"},
            ChildOutput{.out = folder_ / "out", .err = folder_ / "out"});
        REQUIRE_MESSAGE(eventually([&] { return ChildProcess({"jack_lsp"}).wait() == 0; }), bytes_of(folder_ / "out"));
    }
    ~JackServer() {
        die();
        std::error_code ignored; // what a client leaves that outlived its server
        for (const auto& entry : std::filesystem::directory_iterator("/dev/shm", ignored)) {
            if (entry.path().filename().string().find(name_ + "_") != std::string::npos) {
                std::filesystem::remove(entry.path(), ignored);
            }
        }
    }
    JackServer(const JackServer&) = delete;
    JackServer& operator=(const JackServer&) = delete;

    /// Asked to, so that it clears its shared memory away.
    void die() {
        server_->send(SIGTERM);
        server_->wait();
    }
    [[nodiscard]] const TempFolder& folder() const { return folder_; }

private:
    // All servers of a computer keep one register, in which two that start at once have been seen to miss each other:
    // one at a time, also of several runs of these tests.
    FileDescriptor turn_{
        open((std::filesystem::temp_directory_path() / ("retap-test-jack-" + std::to_string(getuid()))).c_str(),
             O_RDWR | O_CREAT | O_CLOEXEC, 0600)};
    std::string name_;
    TempFolder folder_;
    std::unique_ptr<ChildProcess> server_;
};

const Device& jack_input(const std::vector<Device>& devices) {
    return choose_device(devices, Direction::input, "system", std::nullopt);
}

} // namespace

TEST_CASE("a rate that the device refuses is refused in words that say which it takes") {
    const JackServer server;
    const SoundSystem system;
    const auto devices = system.devices();
    CHECK(choose_rate(system, jack_input(devices), 1, std::nullopt) == 48000.0);
    CHECK_THROWS_WITH_AS(static_cast<void>(choose_rate(system, jack_input(devices), 1, 44100.0)),
                         doctest::Contains("it refuses that rate. It takes 48000 Hz"), DeviceError);
    CHECK_THROWS_WITH_AS(
        InputStream(jack_input(devices), std::make_shared<CaptureQueue>(StreamFormat{.sample_rate_hz = 96000.0}, 1.0)),
        doctest::Contains("Cannot record from 'system' at 96000 Hz"), DeviceError);
}

TEST_CASE("a server whose death makes closing hang holds up neither the take nor the program") {
    auto server = std::make_unique<JackServer>();
    const auto system = std::make_shared<SoundSystem>();
    const auto devices = system->devices();
    {
        Recorder recorder(system, {.device = jack_input(devices),
                                   .destination = server->folder() / "take.wav",
                                   .journal_folder = server->folder() / "running",
                                   .session = {.keep_all = true}});
        REQUIRE(eventually([&] { return recorder.progress().listened_s > 0.3; }));
        server->die();
        REQUIRE(recorder.wait_for(30s));
        const Recording& recording = recorder.result();
        CHECK(recording.ended_by == EndedBy::device_lost);
        REQUIRE(recording.take.has_value());
        CHECK(recording.take->duration_s > 0.3);
    }
    // Getting here is the point: nothing waits for a closing that never comes back.
}
