// Whether two takes are one recording.
#pragma once

#include "dsp/base/take.hpp"

#include <span>

namespace retap::compare {

/// Whether some take before and some take after hold the same recording, perhaps at another level, the other way up, at
/// another rate or cut elsewhere: of most taps of one the other has a tap with the same sound and with the same noise
/// before it, which no two recordings have. Taps that ring alike in other noise are two recordings. A copy whose noise
/// a codec has taken away is not known for one.
[[nodiscard]] bool same_sound(std::span<const dsp::TakeAnalysis> before, std::span<const dsp::TakeAnalysis> after);

} // namespace retap::compare
