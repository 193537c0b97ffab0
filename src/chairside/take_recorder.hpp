// What the chairside server records with. A device in the clinic, something made up in tests.
#pragma once

#include "audio/recorder.hpp"

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace retap::chairside {

/// A take being recorded. Ends by itself; destroying it stops and keeps.
class RunningTake {
public:
    RunningTake() = default;
    RunningTake(const RunningTake&) = delete;
    RunningTake& operator=(const RunningTake&) = delete;
    virtual ~RunningTake() = default;

    [[nodiscard]] virtual audio::SessionProgress progress() const = 0;
    virtual void stop() = 0;
    [[nodiscard]] virtual bool wait_for(std::chrono::milliseconds time) const = 0;
    [[nodiscard]] virtual const audio::Recording& result() const = 0;
    [[nodiscard]] virtual std::string device() const = 0;
};

class TakeRecorder {
public:
    TakeRecorder() = default;
    TakeRecorder(const TakeRecorder&) = delete;
    TakeRecorder& operator=(const TakeRecorder&) = delete;
    virtual ~TakeRecorder() = default;

    /// Names of the inputs there are now. Throws DeviceError when the sound system does not start.
    [[nodiscard]] virtual std::vector<std::string> devices() = 0;
    /// Takes this one from now on. Throws DeviceError when it is not there.
    virtual void choose(const std::string& device) = 0;
    /// The one that would be used now, as far as it is known without opening it; empty when there is none.
    [[nodiscard]] virtual std::string chosen() = 0;
    /// Begins to listen; the take goes to `destination` (.flac). Throws DeviceError.
    [[nodiscard]] virtual std::unique_ptr<RunningTake> start(const std::filesystem::path& destination,
                                                             const audio::SessionSettings& session) = 0;
};

/// Records from `wanted` (a name, a part of it or a number), or else from the remembered or default input. `channels`:
/// 1, or 2 for left and right pick-ups.
[[nodiscard]] std::unique_ptr<TakeRecorder> device_recorder(std::optional<std::string> wanted, int channels);

} // namespace retap::chairside
