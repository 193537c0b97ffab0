// A sound card made of nothing, see tools/virtual_audio.sh: what is played to mic48 is what mic48 hears.
#pragma once

#include "audio/sound_writer.hpp"
#include "child_process.hpp"
#include "paths.hpp"
#include "temp_folder.hpp"

#include <csignal>
#include <cstdlib>
#include <memory>
#include <stdexcept>
#include <string>

namespace retap::test {

/// Runs for as long as it lives. Sets the environment of the test so that the sound libraries find it.
class VirtualAudio {
public:
    VirtualAudio() {
        if (script("start") != 0) {
            throw std::runtime_error("the virtual sound card does not start: " + bytes_of(folder_ / "err"));
        }
        pid_ = std::stoi(bytes_of(folder_ / "out"));
        setenv("PULSE_RUNTIME_PATH", card().c_str(), 1);
        setenv("PULSE_SERVER", ("unix:" + (card() / "native").string()).c_str(), 1);
        setenv("ALSA_CONFIG_PATH", (card() / "asound.conf").c_str(), 1);
        setenv("JACK_NO_START_SERVER", "1", 1);
        // What the program remembers and keeps stays in here too.
        setenv("XDG_CONFIG_HOME", (folder_ / "config").c_str(), 1);
        setenv("XDG_STATE_HOME", (folder_ / "state").c_str(), 1);
    }
    ~VirtualAudio() { script("stop"); }
    VirtualAudio(const VirtualAudio&) = delete;
    VirtualAudio& operator=(const VirtualAudio&) = delete;

    /// Of the sound server: to lose the device (SIGKILL), to stall it (SIGSTOP) and to go on (SIGCONT).
    void send(int signal) const { kill(pid_, signal); }

    /// Begins to play a sound to "mic44", "mic48" or "mic96".
    [[nodiscard]] std::unique_ptr<ChildProcess> play(const audio::Sound& sound, const std::string& device) {
        const auto file = folder_ / ("play" + std::to_string(++played_) + ".wav");
        audio::write_sound(file, sound, audio::SoundFormat::wav_24);
        return std::make_unique<ChildProcess>(std::vector<std::string>{"paplay", "-d", device, file.string()},
                                              ChildOutput{}, std::vector{"HOME=" + card().string()});
    }

    [[nodiscard]] const TempFolder& folder() const { return folder_; }

private:
    [[nodiscard]] std::filesystem::path card() const { return folder_ / "card"; }
    int script(const std::string& action) const {
        return ChildProcess({"bash", test::source_dir() + "/tools/virtual_audio.sh", action, card().string()},
                            {.out = folder_ / "out", .err = folder_ / "err"})
            .wait();
    }

    TempFolder folder_;
    pid_t pid_ = -1;
    int played_ = 0;
};

} // namespace retap::test
