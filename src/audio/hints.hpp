// What is said to the clinician while a take is recorded.
#pragma once

#include <string_view>

namespace retap::audio {

enum class Hint {
    none,
    too_soft,       ///< the taps hardly stand out, in a quiet room
    too_loud,       ///< samples reach full scale
    too_noisy,      ///< the taps hardly stand out, because of the noise
    talk_after_taps ///< sound goes on after the taps
};

/// A few words for a display: "too soft".
[[nodiscard]] std::string_view word(Hint hint);
/// A sentence that says what to do; empty for none.
[[nodiscard]] std::string_view advice(Hint hint);

} // namespace retap::audio
