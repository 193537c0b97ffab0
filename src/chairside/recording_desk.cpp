#include "chairside/recording_desk.hpp"

#include "audio/unfinished.hpp"
#include "chairside/left_takes.hpp"
#include "error.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <optional>
#include <system_error>

namespace retap::chairside {

using report::Json;

namespace {

constexpr std::chrono::milliseconds look_every{60}; // sixteen times a second looks live and costs nothing

std::vector<std::byte> bytes_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::vector<std::byte> bytes;
    std::transform(std::istreambuf_iterator<char>(in), {}, std::back_inserter(bytes),
                   [](char c) { return static_cast<std::byte>(c); });
    if (bytes.empty()) {
        throw InputError("Reading the take " + file.string() + ": it is empty or cannot be read.");
    }
    return bytes;
}

} // namespace

RecordingDesk::RecordingDesk(VisitDesk& visits, EventHub& events, std::unique_ptr<TakeRecorder> recorder,
                             std::filesystem::path folder, std::size_t good_taps)
    : visits_(visits), events_(events), recorder_(std::move(recorder)), folder_(std::move(folder)),
      good_taps_(good_taps) {}

RecordingDesk::~RecordingDesk() {
    stop(true);
    if (watcher_.joinable()) {
        watcher_.join();
    }
}

void RecordingDesk::start(visit::VisitId visit, const visit::LookName& look, std::optional<std::size_t> good_taps) {
    const std::lock_guard one(start_stop_);
    {
        const std::lock_guard lock(mutex_);
        if (!done_) {
            throw InputError("A take is being recorded already. Stop it first.");
        }
    }
    if (!visits_.open_for_takes(visit)) {
        throw InputError("This visit is signed. What comes later belongs into a new one.");
    }
    if (watcher_.joinable()) {
        watcher_.join();
    }
    std::filesystem::path file = folder_ / take_file_name(visit, look, std::chrono::system_clock::now());
    auto running = recorder_->start(file, {.good_taps = std::max(good_taps.value_or(good_taps_), good_taps_)});
    {
        const std::lock_guard lock(mutex_);
        running_ = std::move(running);
        visit_ = visit;
        look_ = look;
        file_ = std::move(file);
        keep_ = true;
        done_ = false;
    }
    events_.publish("live", report::json_text(live(), report::JsonLayout::one_line));
    watcher_ = std::thread([this] { watch(); });
}

void RecordingDesk::stop(bool keep) {
    const std::lock_guard one(start_stop_);
    {
        const std::lock_guard lock(mutex_);
        if (done_) {
            return;
        }
        keep_ = keep;
        if (!keep) {
            mark_unwanted(file_);
        }
        running_->stop();
    }
    watcher_.join();
}

void RecordingDesk::watch() {
    const RunningTake* running = nullptr;
    {
        const std::lock_guard lock(mutex_);
        running = running_.get();
    }
    while (!running->wait_for(look_every)) {
        events_.publish("live", report::json_text(live(), report::JsonLayout::one_line), EventHub::Keep::newest);
    }
    settle();
}

/// Puts the finished take where it belongs and tells what came of it.
void RecordingDesk::settle() {
    bool keep = true;
    const audio::Recording* result = nullptr;
    {
        const std::lock_guard lock(mutex_);
        keep = keep_;
        result = &running_->result();
    }
    Json told{
        {"visit", std::to_string(visit_)}, {"look", visit::text(look_)}, {"kept", false}, {"reasons", Json::array()}};
    if (!result->trouble.empty()) {
        told["reasons"].push_back(result->trouble);
    }
    std::error_code ignored;
    if (!keep) {
        told["sentence"] = "Stopped. Nothing was kept.";
        if (result->take) {
            std::filesystem::remove(result->take->file, ignored);
        }
        remove_unwanted(folder_);
        visits_.forget_empty(visit_, look_);
    } else if (!result->take) {
        told["sentence"] = result->ended_by == audio::EndedBy::device_lost
                               ? "The device was lost before a tap was heard."
                               : "No tap was heard. Nothing was kept.";
        if (result->ended_by != audio::EndedBy::device_lost) {
            told["reasons"].push_back("Check that the pick-up is plugged in, switched on and touches the skin.");
        }
    } else {
        try {
            visits_.keep_take(visit_, look_,
                              {.name = visit::text(look_) + ".flac",
                               .flac = bytes_of(result->take->file),
                               .analysis = result->analysis});
            std::filesystem::remove(result->take->file, ignored);
            told["kept"] = true;
            told["sentence"] = result->ended_by == audio::EndedBy::device_lost
                                   ? "The device was lost. What was heard until then was kept."
                                   : "Kept.";
        } catch (const Error& error) {
            told["sentence"] = "The take could not be put into the visit.";
            told["reasons"].push_back(error.what());
            told["reasons"].push_back("Its sound is at " + result->take->file.string() + ".");
        }
    }
    {
        const std::lock_guard lock(mutex_);
        done_ = true;
    }
    events_.publish("recorded", report::json_text(told, report::JsonLayout::one_line));
}

Json RecordingDesk::live_json() const {
    const audio::SessionProgress progress = running_->progress();
    return {{"visit", std::to_string(visit_)},
            {"look", visit::text(look_)},
            {"device", running_->device()},
            {"seconds", report::rounded(progress.listened_s, 1)},
            {"usable", progress.good_taps},
            {"taps", progress.taps},
            {"wanted", progress.wanted_taps},
            {"peak", report::rounded(progress.peak_dbfs, 1)},
            {"noise", report::rounded(progress.noise_dbfs, 1)},
            {"advice", audio::advice(progress.hint)}};
}

Json RecordingDesk::live() const {
    const std::lock_guard lock(mutex_);
    return done_ ? Json(nullptr) : live_json();
}

Json RecordingDesk::devices() {
    // Asked while nothing listens: looking for devices anew would disturb the one in use.
    const std::lock_guard one(start_stop_);
    {
        const std::lock_guard lock(mutex_);
        if (!done_) {
            return {
                {"devices", Json::array({running_->device()})}, {"chosen", running_->device()}, {"trouble", nullptr}};
        }
    }
    try {
        const std::vector<std::string> names = recorder_->devices();
        return {{"devices", names},
                {"chosen", recorder_->chosen()},
                {"trouble", names.empty() ? Json("No sound input is there. Plug the pick-up in.") : Json(nullptr)}};
    } catch (const DeviceError& error) {
        return {{"devices", Json::array()}, {"chosen", ""}, {"trouble", error.what()}};
    }
}

void RecordingDesk::choose(const std::string& device) {
    const std::lock_guard one(start_stop_);
    {
        const std::lock_guard lock(mutex_);
        if (!done_) {
            throw InputError("A take is being recorded. Stop it first.");
        }
    }
    recorder_->choose(device);
}

RecoveredTakes RecordingDesk::recover() {
    remove_unwanted(folder_);
    RecoveredTakes recovered;
    for (const audio::UnfinishedTake& left : audio::find_unfinished(folder_).takes) {
        if (left.head.destination.parent_path() != folder_ || !belongs(left.head.destination)) {
            continue;
        }
        try {
            (void)audio::recover(left, std::nullopt);
        } catch (const Error& error) {
            recovered.waiting.emplace_back(error.what());
        }
    }
    // Whole ones too: the program may have been killed after a take was finished and before its visit knew of it.
    for (const std::filesystem::path& file : left_takes(folder_)) {
        try {
            recovered.kept += attach(file) ? 1U : 0U;
        } catch (const Error& error) {
            recovered.waiting.push_back("A take of visit " + std::to_string(belongs(file)->visit) + " waits in '" +
                                        file.string() + "': " + error.what());
        }
    }
    return recovered;
}

/// False when the visit had it already. The file goes only after the visit holds its sound.
bool RecordingDesk::attach(const std::filesystem::path& file) {
    const auto where = belongs(file);
    std::vector<std::byte> flac = bytes_of(file);
    const bool known = visits_.has_take(where->visit, flac);
    if (!known) {
        if (!visits_.open_for_takes(where->visit)) {
            throw InputError("The visit is signed. Put it into one that follows, or remove it.");
        }
        visits_.keep_take(where->visit, where->look, {.name = file.filename().string(), .flac = std::move(flac)});
    }
    std::error_code ignored; // then the next start finds it known
    std::filesystem::remove(file, ignored);
    return !known;
}

} // namespace retap::chairside
