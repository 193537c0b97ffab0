#include "audio/port_audio.hpp"

#include "audio/alsa_setup.hpp"
#include "audio/quiet_jack.hpp"
#include "audio/quiet_port_audio.hpp"
#include "error.hpp"

#include <algorithm>
#include <atomic>
#include <cassert>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <future>
#include <memory>
#include <mutex>
#include <optional>
#include <portaudio.h>
#include <span>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

/// PortAudio is not made for several threads at once, except for its callbacks and for asking whether a stream is
/// active.
std::mutex& library() {
    static std::mutex mutex;
    return mutex;
}

std::string trouble(PaError error) {
    if (error == paUnanticipatedHostError) {
        const PaHostErrorInfo* host = Pa_GetLastHostErrorInfo();
        if (host != nullptr && host->errorText != nullptr && *host->errorText != '\0') {
            return host->errorText;
        }
    }
    return Pa_GetErrorText(error);
}

// A busy computer may look away for that long.
constexpr double min_input_latency_s = 0.1;
constexpr double min_output_latency_s = 0.2;

PaStreamParameters parameters(const Device& device, Direction direction, int channels) {
    const PaDeviceInfo* info = Pa_GetDeviceInfo(device.number);
    // Nobody hears through this in real time, so the latency that is safest against losses is the right one.
    const bool input = direction == Direction::input;
    const PaTime least = input ? min_input_latency_s : min_output_latency_s;
    const PaTime offered = info == nullptr ? 0.0
                           : input         ? info->defaultHighInputLatency
                                           : info->defaultHighOutputLatency;
    const PaTime latency = std::max(offered, least);
    return {.device = device.number,
            .channelCount = channels,
            .sampleFormat = paFloat32,
            .suggestedLatency = latency,
            .hostApiSpecificStreamInfo = nullptr};
}

std::string hertz(double rate) {
    return std::to_string(std::lround(rate)) + " Hz";
}

[[noreturn]] void refuse_open(const std::string& doing, const Device& device, StreamFormat format, PaError error) {
    throw DeviceError("Cannot " + doing + " '" + device.name + "' at " + hertz(format.sample_rate_hz) + " with " +
                      std::to_string(format.channels) + (format.channels == 1 ? " channel: " : " channels: ") +
                      trouble(error) + ". See what it can do with: retap devices");
}

/// Streams whose closing has not come back yet. Ending the library would wait for them, perhaps for ever.
std::atomic<int>& closing() {
    static std::atomic<int> count{0};
    return count;
}

/// Starts of the library that could not be ended because of that. Under library().
int& unended() {
    static int count = 0;
    return count;
}

/// What the callback uses lives on in the closing thread for as long as that takes.
bool close_stream(PaStream*& open, const std::shared_ptr<void>& keep_alive, std::chrono::milliseconds limit) {
    PaStream* stream = std::exchange(open, nullptr);
    if (stream == nullptr) {
        return true;
    }
    auto done = std::make_shared<std::promise<void>>();
    std::future<void> closed = done->get_future();
    ++closing();
    std::thread([stream, keep_alive, done] {
        Pa_AbortStream(stream); // the step that may hang, so it does not hold up the others
        const std::lock_guard lock(library());
        Pa_CloseStream(stream);
        --closing();
        done->set_value();
    }).detach();
    return closed.wait_for(limit) == std::future_status::ready;
}

void start(PaStream** stream, const PaStreamParameters* input, const PaStreamParameters* output, double rate,
           PaStreamCallback* callback, void* user, const std::string& doing, const Device& device,
           StreamFormat format) {
    const std::lock_guard lock(library());
    PaError error = Pa_OpenStream(stream, input, output, rate, paFramesPerBufferUnspecified, paClipOff | paDitherOff,
                                  callback, user);
    if (error == paNoError) {
        error = Pa_StartStream(*stream);
        if (error != paNoError) {
            Pa_CloseStream(*stream);
        }
    }
    if (error != paNoError) {
        *stream = nullptr;
        refuse_open(doing, device, format, error);
    }
}

} // namespace

SoundSystem::SoundSystem() {
    const std::lock_guard lock(library());
    quiet_alsa();
    quiet_jack();
    quiet_port_audio();
    for (; unended() > 0 && closing() == 0; --unended()) {
        Pa_Terminate();
    }
    ensure_alsa_default();
    if (const PaError error = Pa_Initialize(); error != paNoError) {
        throw DeviceError("Cannot start the sound system: " + trouble(error) + ".");
    }
}

SoundSystem::~SoundSystem() {
    const std::lock_guard lock(library());
    if (closing() == 0) {
        Pa_Terminate();
    } else {
        ++unended();
    }
}

// Members although they use none: what they ask must be running.
// NOLINTBEGIN(readability-convert-member-functions-to-static)
std::vector<Device> SoundSystem::devices() const {
    const std::lock_guard lock(library());
    std::vector<Device> devices;
    for (PaDeviceIndex number = 0; number < Pa_GetDeviceCount(); ++number) {
        const PaDeviceInfo* info = Pa_GetDeviceInfo(number);
        const PaHostApiInfo* host = info == nullptr ? nullptr : Pa_GetHostApiInfo(info->hostApi);
        if (host != nullptr) {
            devices.push_back({.number = number,
                               .name = info->name,
                               .system = host->name,
                               .input_channels = info->maxInputChannels,
                               .output_channels = info->maxOutputChannels,
                               .usual_rate_hz = info->defaultSampleRate,
                               .default_input = number == Pa_GetDefaultInputDevice(),
                               .default_output = number == Pa_GetDefaultOutputDevice()});
        }
    }
    return devices;
}

bool SoundSystem::accepts(const Device& device, Direction direction, StreamFormat format) const {
    const int most = direction == Direction::input ? device.input_channels : device.output_channels;
    if (format.channels > most) {
        return false;
    }
    const std::lock_guard lock(library());
    const PaStreamParameters wanted = parameters(device, direction, format.channels);
    const bool input = direction == Direction::input;
    return Pa_IsFormatSupported(input ? &wanted : nullptr, input ? nullptr : &wanted, format.sample_rate_hz) ==
           paFormatIsSupported;
}
// NOLINTEND(readability-convert-member-functions-to-static)

double choose_rate(const SoundSystem& system, const Device& device, int channels, std::optional<double> wanted_hz) {
    if (channels > device.input_channels) {
        throw DeviceError("Cannot record " + std::to_string(channels) + " channels from '" + device.name +
                          "': it has " + std::to_string(device.input_channels) +
                          ". Use --channels 1 or another device.");
    }
    std::vector<double> taken;
    for (const double rate : recording_rates_hz()) {
        if (system.accepts(device, Direction::input, {.sample_rate_hz = rate, .channels = channels})) {
            if (!wanted_hz || *wanted_hz == rate) {
                return rate;
            }
            taken.push_back(rate);
        }
    }
    std::string offer;
    for (const double rate : taken) {
        offer += (offer.empty() ? "" : ", ") + hertz(rate);
    }
    throw DeviceError(
        "Cannot record from '" + device.name + "'" + (wanted_hz ? " at " + hertz(*wanted_hz) : "") + ": it refuses " +
        (offer.empty() ? "48000, 96000 and 44100 Hz. Another program may be using it; close that, or choose "
                         "another device."
                       : "that rate. It takes " + offer + "."));
}

struct InputStream::State {
    PaStream* stream = nullptr;
    std::shared_ptr<CaptureQueue> queue;

    static int callback(const void* input, void* /*output*/, unsigned long frames,
                        const PaStreamCallbackTimeInfo* /*times*/, PaStreamCallbackFlags flags, void* user) noexcept {
        auto& queue = *static_cast<State*>(user)->queue;
        const bool lost = (flags & paInputOverflow) != 0;
        const std::size_t samples = input == nullptr ? 0 : frames * static_cast<std::size_t>(queue.format().channels);
        queue.push({static_cast<const float*>(input), samples}, lost);
        return paContinue;
    }
};

InputStream::InputStream(const Device& device, std::shared_ptr<CaptureQueue> queue)
    : state_(std::make_shared<State>()) {
    state_->queue = std::move(queue);
    const StreamFormat format = state_->queue->format();
    const PaStreamParameters input = parameters(device, Direction::input, format.channels);
    start(&state_->stream, &input, nullptr, format.sample_rate_hz, &State::callback, state_.get(), "record from",
          device, format);
}

InputStream::~InputStream() {
    close(std::chrono::seconds(1));
}

bool InputStream::active() const {
    return state_->stream != nullptr && Pa_IsStreamActive(state_->stream) == 1;
}

bool InputStream::close(std::chrono::milliseconds limit) {
    return close_stream(state_->stream, state_, limit);
}

constexpr double tail_s = 0.5; // more than any device buffers at this latency

struct OutputStream::State {
    PaStream* stream = nullptr;
    std::shared_ptr<const std::vector<float>> samples;
    std::size_t channels = 1;
    std::size_t sounding_frames = 0;
    std::size_t tail_frames =
        0; ///< of silence: the end of what is played is otherwise still in a buffer when it closes
    std::atomic<std::size_t> position{0};

    static int callback(const void* /*input*/, void* output, unsigned long frames,
                        const PaStreamCallbackTimeInfo* /*times*/, PaStreamCallbackFlags /*flags*/,
                        void* user) noexcept {
        auto& state = *static_cast<State*>(user);
        const std::size_t at = state.position.load(std::memory_order_relaxed);
        const std::size_t from = std::min(at, state.sounding_frames);
        const std::size_t count = std::min<std::size_t>(frames, state.sounding_frames - from);
        const std::span<float> out(static_cast<float*>(output), frames * state.channels);
        const auto part = std::span(*state.samples).subspan(from * state.channels, count * state.channels);
        std::fill(std::copy(part.begin(), part.end(), out.begin()), out.end(), 0.0F);
        state.position.store(at + frames, std::memory_order_relaxed);
        return at + frames >= state.sounding_frames + state.tail_frames ? paComplete : paContinue;
    }
};

OutputStream::OutputStream(const Device& device, StreamFormat format, std::shared_ptr<const std::vector<float>> samples)
    : state_(std::make_shared<State>()) {
    assert(samples->size() % static_cast<std::size_t>(format.channels) == 0);
    state_->samples = std::move(samples);
    state_->channels = static_cast<std::size_t>(format.channels);
    state_->sounding_frames = state_->samples->size() / state_->channels;
    state_->tail_frames = static_cast<std::size_t>(tail_s * format.sample_rate_hz);
    const PaStreamParameters output = parameters(device, Direction::output, format.channels);
    start(&state_->stream, nullptr, &output, format.sample_rate_hz, &State::callback, state_.get(), "play on", device,
          format);
}

OutputStream::~OutputStream() {
    close(std::chrono::seconds(1));
}

std::size_t OutputStream::position() const {
    return std::min(state_->position.load(std::memory_order_relaxed), state_->sounding_frames);
}

bool OutputStream::finished() const {
    return state_->stream == nullptr || Pa_IsStreamActive(state_->stream) != 1;
}

bool OutputStream::close(std::chrono::milliseconds limit) {
    return close_stream(state_->stream, state_, limit);
}

} // namespace retap::audio
