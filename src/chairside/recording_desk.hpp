// One take at a time, from the touch on the page to the visit.
#pragma once

#include "chairside/event_hub.hpp"
#include "chairside/take_recorder.hpp"
#include "chairside/visit_desk.hpp"

#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace retap::chairside {

/// What a start found of an earlier run.
struct RecoveredTakes {
    std::size_t kept = 0;             ///< are in their visits now
    std::vector<std::string> waiting; ///< a sentence for each that could not be, with its file
};

/// Listens for one look of one visit; tells every page how it goes ("live") and what came of it ("recorded"). A take
/// that ends is put into the visit at once; a page that was reloaded or closed meanwhile changes nothing.
class RecordingDesk {
public:
    /// Takes lie in `folder` while they are recorded, and stay there when the visit does not accept them.
    RecordingDesk(VisitDesk& visits, EventHub& events, std::unique_ptr<TakeRecorder> recorder,
                  std::filesystem::path folder, std::size_t good_taps);
    /// Stops, keeps and waits.
    ~RecordingDesk();
    RecordingDesk(const RecordingDesk&) = delete;
    RecordingDesk& operator=(const RecordingDesk&) = delete;

    /// Throws DeviceError when the device refuses, InputError when a take is being recorded already or the visit is
    /// signed.
    void start(visit::VisitId visit, const visit::LookName& look, std::optional<std::size_t> good_taps = {});
    /// Ends the running take, if any, and waits until it is in the visit or dropped.
    void stop(bool keep);
    /// What runs now, as "live" tells it; null otherwise.
    [[nodiscard]] report::Json live() const;
    /// Inputs, which one is used, and what is wrong: {"devices": [...], "chosen": "...", "trouble": null}
    [[nodiscard]] report::Json devices();
    /// Throws DeviceError when it is not there, InputError while a take is being recorded.
    void choose(const std::string& device);
    /// Puts takes into their visits that a killed program left behind, whole or unfinished.
    RecoveredTakes recover();

private:
    void watch();
    void settle();
    bool attach(const std::filesystem::path& file);
    [[nodiscard]] report::Json live_json() const;

    VisitDesk& visits_;
    EventHub& events_;
    std::unique_ptr<TakeRecorder> recorder_;
    std::filesystem::path folder_;
    std::size_t good_taps_;

    mutable std::mutex mutex_; ///< guards what follows
    std::unique_ptr<RunningTake> running_;
    visit::VisitId visit_ = 0;
    visit::LookName look_;
    std::filesystem::path file_;
    bool keep_ = true;
    bool done_ = true;
    std::thread watcher_;
    std::mutex start_stop_; ///< one start or stop at a time
};

} // namespace retap::chairside
