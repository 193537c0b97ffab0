#include "audio/take_recording.hpp"

#include "audio/inspect_file.hpp"
#include "audio/sound_writer.hpp"
#include "error.hpp"

#include <array>
#include <cstdint>
#include <ctime>
#include <filesystem>
#include <functional>
#include <random>
#include <span>
#include <string>
#include <system_error>
#include <unistd.h>

namespace retap::audio {
namespace fs = std::filesystem;
namespace {

std::string new_take_id() {
    constexpr std::string_view digits = "0123456789abcdef";
    std::random_device random;
    std::string id;
    for (int i = 0; i < 32; ++i) {
        id += digits[random() % digits.size()];
    }
    return id;
}

std::string local_time() {
    const std::time_t now = std::time(nullptr);
    std::tm parts{};
    localtime_r(&now, &parts);
    std::array<char, 32> text{};
    const std::size_t length = std::strftime(text.data(), text.size(), "%Y-%m-%d %H:%M:%S", &parts);
    return {text.data(), length};
}

/// Found out before anybody taps, not afterwards.
fs::path usable(const fs::path& destination) {
    static_cast<void>(format_for(destination));
    const auto refuse = [&](const std::string& fault) {
        throw InputError("Cannot record to '" + destination.string() + "': " + fault);
    };
    std::error_code fault;
    fs::path absolute = fs::absolute(destination, fault);
    if (fs::exists(fs::symlink_status(absolute, fault))) {
        refuse("it exists already, and a take is never written over. Choose another name.");
    }
    if (!fs::is_directory(absolute.parent_path(), fault)) {
        refuse("its folder does not exist. Make it first, or choose another place.");
    }
    if (access(absolute.parent_path().c_str(), W_OK | X_OK) != 0) {
        refuse("its folder cannot be written to. Choose another place.");
    }
    return absolute;
}

fs::path made(const fs::path& folder) {
    std::error_code fault;
    fs::create_directories(folder, fault);
    if (fault) {
        throw InputError("Cannot make the folder for running recordings, '" + folder.string() +
                         "': " + fault.message() + ".");
    }
    fs::permissions(folder, fs::perms::owner_all, fault); // recordings are health data
    return folder;
}

JournalHead head_of(StreamFormat format, const SessionSettings& settings, const TakePlace& place,
                    const fs::path& destination) {
    return {.take_id = new_take_id(),
            .destination = destination,
            .format = format,
            .device = place.device,
            .started = local_time(),
            .keep_all = settings.keep_all};
}

JournalWriter begin_journal(const JournalHead& head, const fs::path& folder) {
    return {made(folder) / (head.take_id + ".journal"), head};
}

} // namespace

TakeRecording::TakeRecording(StreamFormat format, const SessionSettings& settings, const TakePlace& place)
    : destination_(usable(place.destination)),
      journal_(begin_journal(head_of(format, settings, place, destination_), place.journal_folder)),
      session_(format, settings, journal_) {}

TakeRecording::~TakeRecording() {
    if (journal_.frames() == 0) {
        std::error_code ignored;
        fs::remove(journal_.path(), ignored);
    }
}

void TakeRecording::guard_journal(const std::function<void()>& work) {
    try {
        work();
    } catch (const InputError& fault) {
        end(EndedBy::disk_full, fault.what());
    }
}

void TakeRecording::block(std::span<const float> interleaved) {
    guard_journal([&] { session_.block(interleaved); });
}

void TakeRecording::gap(std::uint64_t lost_frames) {
    guard_journal([&] { session_.gap(lost_frames); });
}

void TakeRecording::end(EndedBy reason, const std::string& trouble) {
    if (ended_by() == EndedBy::running) {
        session_.end(reason);
        trouble_ = trouble;
    }
}

Recording TakeRecording::finish(const CaptureCounts& counts) {
    Recording recording{.ended_by = ended_by(), .trouble = trouble_};
    const auto spans = session_.finish();
    const CaptureNote note{.ended_by = std::string(words(ended_by())),
                           .lost_frames = counts.lost_frames,
                           .device_overflows = counts.device_overflows};
    try {
        recording.take = finish_take(journal_.path(), spans, destination_, note);
    } catch (const InputError& fault) {
        recording.trouble += (recording.trouble.empty() ? "" : " ") + std::string(fault.what()) +
                             " The take is not lost; get it back with: retap record --recover";
        recording.journal = journal_.path();
        return recording;
    }
    std::error_code ignored; // when it cannot be removed, the next start sees that its take is finished
    fs::remove(journal_.path(), ignored);
    if (recording.take) {
        recording.analysis = inspect_file(destination_);
    }
    return recording;
}

} // namespace retap::audio
