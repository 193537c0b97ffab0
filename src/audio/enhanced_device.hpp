// Devices whose name says that they work on the sound before it is recorded.
#pragma once

#include <string>
#include <string_view>

namespace retap::audio {

/// A sentence for people when the name of a device says that it cancels echo, suppresses noise or goes over a telephone
/// link; empty when it does not. Sound systems name such devices so by custom (common practice, no source); one that
/// keeps silent about it can only be told by the signs in the sound, see dsp::judge_fitness.
[[nodiscard]] std::string_view enhancement_warning(const std::string& device_name);

} // namespace retap::audio
