#include "chairside/recording_desk.hpp"

#include "audio/unfinished.hpp"
#include "error.hpp"

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <optional>
#include <system_error>

namespace retap::chairside {

using report::Json;

namespace {

constexpr std::chrono::milliseconds look_every{60}; // sixteen times a second looks live and costs nothing

/// "visit-12-after2-20310514T083207Z.flac": says where a take belongs if the program is killed.
std::string file_name(visit::VisitId visit, const visit::LookName& look, Moment now) {
    std::string at = utc_text(now);
    std::erase_if(at, [](char c) { return c == '-' || c == ':'; });
    return "visit-" + std::to_string(visit) + "-" + visit::text(look) + "-" + at + ".flac";
}

struct Belongs {
    visit::VisitId visit;
    visit::LookName look;
};

std::optional<Belongs> belongs(const std::filesystem::path& file) {
    const std::string name = file.filename().string();
    long long visit = 0;
    int from = 0;
    int to = 0;
    // NOLINTNEXTLINE(cert-err34-c): the fields read and the form tell whether it fits
    if (std::sscanf(name.c_str(), "visit-%lld-%n%*[a-z0-9]%n-", &visit, &from, &to) < 1 || to <= from) {
        return std::nullopt;
    }
    const auto look = visit::look_from(
        std::string_view(name).substr(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from)));
    return look ? std::optional(Belongs{visit, *look}) : std::nullopt;
}

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

void RecordingDesk::start(visit::VisitId visit, const visit::LookName& look) {
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
    std::filesystem::path file = folder_ / file_name(visit, look, std::chrono::system_clock::now());
    auto running = recorder_->start(file, {.good_taps = good_taps_});
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

std::size_t RecordingDesk::recover() {
    std::size_t recovered = 0;
    for (const audio::UnfinishedTake& left : audio::find_unfinished(folder_).takes) {
        if (left.head.destination.parent_path() != folder_ || !belongs(left.head.destination)) {
            continue;
        }
        try {
            const auto finished = audio::recover(left, std::nullopt);
            if (!finished) {
                continue;
            }
            const auto where = belongs(finished->file);
            if (where && visits_.open_for_takes(where->visit)) {
                visits_.keep_take(where->visit, where->look,
                                  {.name = finished->file.filename().string(), .flac = bytes_of(finished->file)});
                std::error_code ignored;
                std::filesystem::remove(finished->file, ignored);
                ++recovered;
            }
        } catch (const Error&) {
            continue; // the take or its file stays where it is, for `retap record` to find
        }
    }
    return recovered;
}

} // namespace retap::chairside
