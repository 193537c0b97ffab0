#include "audio/device_memory.hpp"
#include "audio/port_audio.hpp"
#include "chairside/take_recorder.hpp"
#include "error.hpp"

namespace retap::chairside {

namespace {

class DeviceTake : public RunningTake {
public:
    DeviceTake(std::shared_ptr<audio::SoundSystem> system, const audio::RecorderSettings& settings)
        : device_(settings.device.name), recorder_(std::move(system), settings) {}

    [[nodiscard]] audio::SessionProgress progress() const override { return recorder_.progress(); }
    void stop() override { recorder_.stop(); }
    [[nodiscard]] bool wait_for(std::chrono::milliseconds time) const override { return recorder_.wait_for(time); }
    [[nodiscard]] const audio::Recording& result() const override { return recorder_.result(); }
    [[nodiscard]] std::string device() const override { return device_; }

private:
    std::string device_;
    audio::Recorder recorder_;
};

class DeviceRecorder : public TakeRecorder {
public:
    DeviceRecorder(std::optional<std::string> wanted, int channels) : wanted_(std::move(wanted)), channels_(channels) {}

    std::vector<std::string> devices() override {
        const audio::SoundSystem system;
        std::vector<std::string> names;
        for (const audio::Device& device : system.devices()) {
            if (device.input_channels >= channels_) {
                names.push_back(device.name);
            }
        }
        return names;
    }

    void choose(const std::string& device) override {
        const audio::SoundSystem system;
        const audio::Device found =
            audio::choose_device(system.devices(), audio::Direction::input, device, std::nullopt);
        wanted_ = found.name;
        if (const auto memory = audio::device_memory_file()) {
            audio::remember_device(*memory, audio::Direction::input, {.name = found.name, .system = found.system});
        }
    }

    std::string chosen() override {
        const audio::SoundSystem system;
        try {
            return wanted_device(system).name;
        } catch (const DeviceError&) {
            return {};
        }
    }

    std::unique_ptr<RunningTake> start(const std::filesystem::path& destination,
                                       const audio::SessionSettings& session) override {
        auto system = std::make_shared<audio::SoundSystem>();
        audio::RecorderSettings settings;
        settings.device = wanted_device(*system);
        settings.format = {audio::choose_rate(*system, settings.device, channels_, std::nullopt), channels_};
        settings.destination = destination;
        settings.journal_folder = destination.parent_path();
        settings.session = session;
        return std::make_unique<DeviceTake>(std::move(system), settings);
    }

private:
    [[nodiscard]] audio::Device wanted_device(const audio::SoundSystem& system) const {
        const auto memory = audio::device_memory_file();
        return audio::choose_device(system.devices(), audio::Direction::input, wanted_,
                                    memory ? audio::remembered_device(*memory, audio::Direction::input) : std::nullopt);
    }

    std::optional<std::string> wanted_;
    int channels_;
};

} // namespace

std::unique_ptr<TakeRecorder> device_recorder(std::optional<std::string> wanted, int channels) {
    return std::make_unique<DeviceRecorder>(std::move(wanted), channels);
}

} // namespace retap::chairside
