#include "recording_text.hpp"

#include "take_text.hpp"
#include "terminal.hpp"

#include <cstdint>
#include <string>

namespace retap::commands {
namespace {

std::string counted(std::uint64_t count, const std::string& one, const std::string& many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string losses(const audio::CaptureNote& note) {
    std::uint64_t gaps = 0;
    for (const audio::Join& join : note.joins) {
        gaps += join.kind == audio::Join::Kind::gap ? 1U : 0U;
    }
    if (note.lost_frames == 0 && note.device_overflows == 0) {
        return "";
    }
    return "Sound was lost on its way from the device; the take has " + counted(gaps, "gap", "gaps") +
           " and nothing is timed across them. Close other programs before the next take.\n";
}

report::Json join_json(const audio::Join& join, double rate_hz) {
    return {{"at_s", report::rounded(static_cast<double>(join.at_frame) / rate_hz, 6)},
            {"kind", join.kind == audio::Join::Kind::gap ? "gap" : "pause"},
            {"missing_s", report::rounded(static_cast<double>(join.missing_frames) / rate_hz, 6)}};
}

} // namespace

std::string recording_text(const audio::Recording& recording) {
    const audio::CaptureNote& note = recording.take->note;
    std::string text = "Saved " + recording.take->file.string() + "  (" + std::string(note.ended_by) + ")\n";
    if (recording.analysis) {
        std::size_t good = 0;
        for (const dsp::Tap& tap : recording.analysis->taps) {
            good += tap.usable ? 1U : 0U;
        }
        text += counted(recording.analysis->taps.size(), "tap", "taps") + ", " + std::to_string(good) + " good\n";
        text += with_plain_signs(fitness_text(*recording.analysis));
    }
    if (note.kept_everything) {
        text += "Everything that was heard is stored, talk too.\n";
    }
    text += losses(note);
    for (const std::string& warning : note.warnings) {
        text += warning + "\n";
    }
    return text;
}

report::Json recording_json(const audio::Recording& recording) {
    const audio::CaptureNote& note = recording.take->note;
    const double rate_hz = recording.analysis ? recording.analysis->sample_rate_hz : dsp::analysis_rate_hz;
    report::Json joins = report::Json::array();
    for (const audio::Join& join : note.joins) {
        joins.push_back(join_json(join, rate_hz));
    }
    return {{"format", "retap.recording/1"},
            {"file", recording.take->file.string()},
            {"device", note.device},
            {"started", note.started},
            {"ended_by", note.ended_by},
            {"kept_everything", note.kept_everything},
            {"recovered", note.recovered},
            {"lost_frames", note.lost_frames},
            {"device_overflows", note.device_overflows},
            {"joins", std::move(joins)},
            {"joins_left_out", note.joins_left_out},
            {"warnings", note.warnings},
            {"trouble", recording.trouble.empty() ? report::Json(nullptr) : report::Json(recording.trouble)},
            {"take", recording.analysis ? report::take_json(*recording.analysis) : report::Json(nullptr)}};
}

} // namespace retap::commands
