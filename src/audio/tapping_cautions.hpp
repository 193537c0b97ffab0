// When a patient should not tap: the one place these sentences stand. Shown wherever a recording begins.
#pragma once

#include <array>
#include <string_view>

namespace retap::audio {

/// Common practice, no source. They caution and leave the decision to who treats.
inline constexpr std::array<std::string_view, 5> tapping_cautions{
    "Not on a tooth that hurts, and not with a sore jaw joint or muscle. Stop at the first pain.",
    "Not on loose teeth, fresh implants, or a tooth that was injured or operated on of late.",
    "Not before cement or filling has set, and not on a temporary that could break or come off.",
    "Short and gentle, with the head at rest: harder taps tell nothing more.",
    "Clean the pick-up or cover it afresh for each patient. Your local protocol comes first.",
};

/// The gist in a sentence.
inline constexpr std::string_view tapping_caution =
    "Do not have the patient tap on painful or loose teeth, fresh implants or unset cement.";

} // namespace retap::audio
