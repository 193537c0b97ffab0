// In words, why a tap is not used and why a sound is no tap. The sound stage gives enumerators.
#pragma once

#include "dsp/base/take.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::report {

/// As the end of a sentence or by itself; lower case, without a full stop.
[[nodiscard]] std::string_view word(dsp::NoTap reason);
[[nodiscard]] std::string_view word(dsp::Unusable reason);
[[nodiscard]] std::vector<std::string> words(std::span<const dsp::Unusable> reasons);

} // namespace retap::report
