#include "audio/recorder.hpp"

#include "audio/capture_queue.hpp"
#include "audio/device_watchdog.hpp"

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <utility>

namespace retap::audio {
namespace {

constexpr double queue_s = 8.0; // a slow disk may hold the worker up for that long before sound is lost
constexpr std::chrono::milliseconds look_every{10};
constexpr std::chrono::milliseconds close_within{1000};
constexpr std::chrono::milliseconds close_lost_within{200}; // it hardly ever comes back, and the message is waited for

} // namespace

struct Recorder::State {
    State(std::shared_ptr<SoundSystem> sound_system, const RecorderSettings& settings)
        : system(std::move(sound_system)), device(settings.device),
          queue(std::make_shared<CaptureQueue>(settings.format, queue_s)),
          recording(settings.format, settings.session,
                    {.destination = settings.destination,
                     .journal_folder = settings.journal_folder,
                     .device = settings.device.name}),
          stream(settings.device, queue) {}

    void work();
    void listen();
    void publish();

    std::shared_ptr<SoundSystem> system; // outlives the stream
    Device device;
    std::shared_ptr<CaptureQueue> queue;
    TakeRecording recording; // the worker's
    InputStream stream;      // the worker's
    std::atomic<bool> stop_asked{false};

    mutable std::mutex mutex; // guards what follows
    mutable std::condition_variable changed;
    SessionProgress progress;
    std::optional<Recording> result;

    std::thread worker;
};

void Recorder::State::listen() {
    DeviceWatchdog watchdog(DeviceWatchdog::Clock::now());
    while (recording.ended_by() == EndedBy::running) {
        std::this_thread::sleep_for(look_every);
        const bool stop_now = stop_asked;
        const bool active = stream.active();
        const bool silent = watchdog.is_silent(queue->counts().callbacks, DeviceWatchdog::Clock::now());
        queue->drain(recording); // after looking, so that nothing that came before an end is left out
        if (!active) {
            recording.end(EndedBy::device_lost,
                          "The device '" + device.name + "' is gone: unplugged, or its sound server ended.");
        } else if (silent) {
            recording.end(EndedBy::device_lost,
                          "The device '" + device.name +
                              "' has stopped delivering sound. Plug it in again, or choose another.");
        } else if (stop_now) {
            recording.end(EndedBy::stopped);
        }
        publish();
    }
}

void Recorder::State::publish() {
    const std::lock_guard lock(mutex);
    progress = recording.progress();
}

void Recorder::State::work() {
    listen();
    // The take comes first: giving a lost device back may take for ever.
    Recording finished = recording.finish(queue->counts());
    stream.close(finished.ended_by == EndedBy::device_lost ? close_lost_within : close_within);
    const std::lock_guard lock(mutex);
    result = std::move(finished);
    changed.notify_all();
}

Recorder::Recorder(std::shared_ptr<SoundSystem> system, const RecorderSettings& settings)
    : state_(std::make_unique<State>(std::move(system), settings)) {
    state_->progress = state_->recording.progress();
    state_->worker = std::thread([state = state_.get()] { state->work(); });
}

Recorder::~Recorder() {
    stop();
    state_->worker.join();
}

SessionProgress Recorder::progress() const {
    const std::lock_guard lock(state_->mutex);
    return state_->progress;
}

void Recorder::stop() {
    state_->stop_asked = true;
}

bool Recorder::wait_for(std::chrono::milliseconds time) const {
    std::unique_lock lock(state_->mutex);
    return state_->changed.wait_for(lock, time, [&] { return state_->result.has_value(); });
}

const Recording& Recorder::result() const {
    std::unique_lock lock(state_->mutex);
    state_->changed.wait(lock, [&] { return state_->result.has_value(); });
    return *state_->result;
}

} // namespace retap::audio
