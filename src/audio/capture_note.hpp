// What a finished take says about its own recording. Travels in the file's comment, as lines a person can read.
#pragma once

#include "audio/sound_sink.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::audio {

/// A place in a take where two moments meet that did not follow each other. Nothing may be timed across it.
struct Join {
    enum class Kind {
        pause, ///< sound away from the taps was left out on purpose
        gap    ///< sound was lost on its way
    };
    std::uint64_t at_frame = 0; ///< the first frame after it, counted from the start of the take
    Kind kind = Kind::pause;
    std::uint64_t missing_frames = 0; ///< 0 when unknown
    bool operator==(const Join&) const = default;
};

struct CaptureNote {
    std::string take_id{};
    std::string device{};
    std::string started{}; ///< local date and time
    std::string ended_by{};
    bool kept_everything = false; ///< else only half a second around the taps
    bool recovered = false;       ///< finished later, from what an interrupted recording left
    std::string codec{};          ///< what threw part of the sound away on its way here, as "AAC"; empty: nothing
    std::uint64_t lost_frames = 0;
    std::uint64_t device_overflows = 0;
    std::uint64_t joins_left_out = 0; ///< there are more after the last of `joins`, but the text has no room for them
    std::vector<Join> joins{};        ///< by place
    std::vector<std::string> warnings{}; ///< plain sentences
};

/// At most max_comment_bytes long: a long device name is cut, joins that do not fit are counted in joins_left_out
/// (some 70 fit; a take with more is past use), and warnings that do not fit are dropped.
[[nodiscard]] std::string write_note(const CaptureNote& note);
/// Nothing when `comment` is not a note of ours.
[[nodiscard]] std::optional<CaptureNote> read_note(std::string_view comment);

} // namespace retap::audio
