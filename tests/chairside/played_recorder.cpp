#include "played_recorder.hpp"

#include "audio/sound_file.hpp"
#include "audio/take_recording.hpp"
#include "error.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace retap::test {

namespace {

constexpr double block_s = 0.02;

struct Heard {
    audio::Sound sound;
    bool loses_device = false;
};

Heard hear(const std::string& name) {
    if (name == "silence") {
        return {{.sample_rate_hz = 48000.0,
                 .channels = 1,
                 .interleaved = std::vector<float>(std::size_t{48000} * 90, 0.0F)},
                false};
    }
    constexpr std::string_view lost = ":lost";
    const bool loses = name.ends_with(lost);
    return {audio::read_sound(loses ? name.substr(0, name.size() - lost.size()) : name), loses};
}

class PlayedTake : public chairside::RunningTake {
public:
    PlayedTake(Heard heard, const std::filesystem::path& destination, const audio::SessionSettings& session,
               double speed)
        : heard_(std::move(heard)), speed_(speed),
          recording_(
              {heard_.sound.sample_rate_hz, heard_.sound.channels}, session,
              {.destination = destination, .journal_folder = destination.parent_path(), .device = "Test pick-up"}),
          worker_([this] { play(); }) {}
    ~PlayedTake() override {
        stopping_ = true;
        worker_.join();
    }
    PlayedTake(const PlayedTake&) = delete;
    PlayedTake& operator=(const PlayedTake&) = delete;

    [[nodiscard]] audio::SessionProgress progress() const override {
        const std::lock_guard lock(mutex_);
        return progress_;
    }
    void stop() override { stopping_ = true; }
    [[nodiscard]] bool wait_for(std::chrono::milliseconds time) const override {
        std::unique_lock lock(mutex_);
        return changed_.wait_for(lock, time, [this] { return result_.has_value(); });
    }
    [[nodiscard]] const audio::Recording& result() const override {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [this] { return result_.has_value(); });
        return *result_;
    }
    [[nodiscard]] std::string device() const override { return "Test pick-up"; }

private:
    void play() {
        const auto block = static_cast<std::size_t>(block_s * heard_.sound.sample_rate_hz) *
                           static_cast<std::size_t>(heard_.sound.channels);
        const std::vector<float>& all = heard_.sound.interleaved;
        const std::vector<float> quiet(block, 0.0F);
        auto next = std::chrono::steady_clock::now();
        for (std::size_t at = 0; recording_.ended_by() == audio::EndedBy::running; at += block) {
            if (stopping_) {
                recording_.end(audio::EndedBy::stopped);
            } else if (heard_.loses_device && at > all.size() / 2) {
                recording_.end(audio::EndedBy::device_lost, "The device 'Test pick-up' is gone.");
            } else if (at < all.size()) {
                recording_.block(std::span(all).subspan(at, std::min(block, all.size() - at)));
            } else {
                recording_.block(quiet); // the room after the file, which ends the run of taps
            }
            {
                const std::lock_guard lock(mutex_);
                progress_ = recording_.progress();
            }
            next += std::chrono::microseconds(static_cast<std::int64_t>(1e6 * block_s / speed_));
            std::this_thread::sleep_until(next);
        }
        audio::Recording done = recording_.finish({});
        const std::lock_guard lock(mutex_);
        result_ = std::move(done);
        changed_.notify_all();
    }

    Heard heard_;
    double speed_;
    audio::TakeRecording recording_;
    std::atomic<bool> stopping_{false};
    mutable std::mutex mutex_;
    mutable std::condition_variable changed_;
    audio::SessionProgress progress_;
    std::optional<audio::Recording> result_;
    std::thread worker_;
};

class PlayedRecorder : public chairside::TakeRecorder {
public:
    explicit PlayedRecorder(PlayedSettings settings) : settings_(std::move(settings)) {}

    std::vector<std::string> devices() override {
        return next() == "none" ? std::vector<std::string>{} : std::vector<std::string>{"Test pick-up"};
    }
    void choose(const std::string& device) override {
        if (device != "Test pick-up") {
            throw DeviceError("There is no input called '" + device + "'.");
        }
    }
    std::string chosen() override { return next() == "none" ? std::string() : std::string("Test pick-up"); }
    std::unique_ptr<chairside::RunningTake> start(const std::filesystem::path& destination,
                                                  const audio::SessionSettings& session) override {
        const std::string name = next();
        ++at_;
        if (name == "none") {
            throw DeviceError("No sound input is there. Plug the pick-up in and try again.");
        }
        return std::make_unique<PlayedTake>(hear(name), destination, session, settings_.speed);
    }

private:
    [[nodiscard]] std::string next() const { return settings_.sounds.at(std::min(at_, settings_.sounds.size() - 1)); }

    PlayedSettings settings_;
    std::size_t at_ = 0;
};

} // namespace

std::unique_ptr<chairside::TakeRecorder> played_recorder(PlayedSettings settings) {
    return std::make_unique<PlayedRecorder>(std::move(settings));
}

} // namespace retap::test
