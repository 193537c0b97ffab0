#include "audio/capture_note.hpp"

#include "audio/key_lines.hpp"
#include "audio/sound_writer.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

namespace retap::audio {
namespace {

constexpr std::string_view first_line_key = "retap capture";
constexpr std::string_view version = "1";

constexpr std::string_view join_separator = "; ";
constexpr std::size_t longest_name = 100;
constexpr std::uint64_t most_frames = 1'000'000'000'000'000; // no recording has more: beyond it a number is damage
constexpr std::size_t room_for_count = 50;                   // "joins: ", "joins left out: " and its number

std::string write_join(const Join& join) {
    return std::to_string(join.at_frame) + (join.kind == Join::Kind::gap ? " gap " : " pause ") +
           std::to_string(join.missing_frames);
}

/// As many joins as fit into `room` bytes; `written` says how many those are.
std::string write_joins(const std::vector<Join>& joins, std::size_t room, std::size_t& written) {
    std::string out;
    written = 0;
    for (const Join& join : joins) {
        const std::string text = (out.empty() ? "" : std::string(join_separator)) + write_join(join);
        if (out.size() + text.size() > room) {
            break;
        }
        out += text;
        ++written;
    }
    return out;
}

std::vector<Join> read_joins(const std::string& text) {
    std::vector<Join> joins;
    std::istringstream in(text);
    std::string kind;
    Join join;
    char separator = ';';
    while (separator == ';' && in >> join.at_frame >> kind) {
        separator = '\0';
        // The number may be followed by the separator directly.
        if (!(in >> join.missing_frames) || (kind != "gap" && kind != "pause")) {
            break;
        }
        if (join.at_frame > most_frames || join.missing_frames > most_frames) { // as is what a minus makes of a number
            break;
        }
        join.kind = kind == "gap" ? Join::Kind::gap : Join::Kind::pause;
        joins.push_back(join);
        in >> separator;
    }
    return joins;
}

std::string cut(std::string text, std::size_t max_bytes) {
    if (text.size() > max_bytes) {
        while (max_bytes > 0 && (static_cast<unsigned char>(text[max_bytes]) & 0xC0U) == 0x80U) {
            --max_bytes; // not within a character of UTF-8
        }
        text.resize(max_bytes);
    }
    return text;
}

std::uint64_t read_count(const KeyLines& lines, std::string_view key) {
    return static_cast<std::uint64_t>(
        std::clamp(read_number(value_of(lines, key)).value_or(0.0), 0.0, static_cast<double>(most_frames)));
}

} // namespace

std::string write_note(const CaptureNote& note) {
    KeyLines lines = {{std::string(first_line_key), std::string(version)},
                      {"take", cut(note.take_id, longest_name)},
                      {"device", cut(note.device, longest_name)},
                      {"started", cut(note.started, longest_name)},
                      {"ended by", cut(note.ended_by, longest_name)},
                      {"kept", note.kept_everything ? "everything" : "around the taps"},
                      {"recovered", note.recovered ? "yes" : "no"},
                      {"lost frames", std::to_string(note.lost_frames)},
                      {"device overflows", std::to_string(note.device_overflows)}};
    if (!note.codec.empty()) {
        lines.emplace_back("codec", cut(note.codec, longest_name));
    }
    std::string text = write_key_lines(lines);
    std::size_t written = 0;
    const std::string joins = write_joins(note.joins, max_comment_bytes - text.size() - room_for_count, written);
    if (!note.joins.empty()) {
        text += write_key_lines({{"joins", joins}});
    }
    if (const std::uint64_t left_out = note.joins_left_out + (note.joins.size() - written); left_out > 0) {
        text += write_key_lines({{"joins left out", std::to_string(left_out)}});
    }
    for (const std::string& warning : note.warnings) {
        const std::string line = write_key_lines({{"warning", warning}});
        text += text.size() + line.size() <= max_comment_bytes ? line : "";
    }
    return text;
}

std::optional<CaptureNote> read_note(std::string_view comment) {
    const KeyLines lines = read_key_lines(comment);
    if (lines.empty() || lines.front().first != first_line_key || lines.front().second != version) {
        return std::nullopt;
    }
    CaptureNote note;
    note.take_id = value_of(lines, "take");
    note.device = value_of(lines, "device");
    note.started = value_of(lines, "started");
    note.ended_by = value_of(lines, "ended by");
    note.kept_everything = value_of(lines, "kept") == "everything";
    note.recovered = value_of(lines, "recovered") == "yes";
    note.codec = value_of(lines, "codec");
    note.lost_frames = read_count(lines, "lost frames");
    note.device_overflows = read_count(lines, "device overflows");
    note.joins = read_joins(value_of(lines, "joins"));
    note.joins_left_out = read_count(lines, "joins left out");
    for (const auto& [key, value] : lines) {
        if (key == "warning") {
            note.warnings.push_back(value);
        }
    }
    return note;
}

} // namespace retap::audio
