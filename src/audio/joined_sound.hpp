// A take whose note tells where moments meet that did not follow each other, fed so that nothing is timed across.
#pragma once

#include "audio/capture_note.hpp"
#include "audio/take_listener.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace retap::audio {

/// Feeds a listener and tells it of every join in its place. A take without a note of ours has none. Gaps that the note
/// had no room for are counted at the end, where they spoil no tap but the count.
class JoinedSound {
public:
    /// `comment`: as it stands in the file. The listener must outlive this.
    JoinedSound(TakeListener& listener, int channels, std::string_view comment);

    /// The next samples, whole frames.
    void feed(std::span<const float> interleaved);
    /// At the end, before the listener is asked.
    void finish();

private:
    TakeListener& listener_;
    std::size_t channels_;
    std::vector<Join> joins_;
    std::size_t next_ = 0;
    std::uint64_t left_out_ = 0;
    std::uint64_t frame_ = 0;
};

} // namespace retap::audio
