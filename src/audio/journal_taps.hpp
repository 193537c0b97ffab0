// The taps in a journal, for recordings that could not finish by themselves.
#pragma once

#include "audio/kept_spans.hpp"

#include <filesystem>
#include <optional>
#include <vector>

namespace retap::audio {

/// What of an interrupted recording lies near a tap: near those it had noted, and near those that are found by
/// listening to the journal once more, because the last ones may not have been noted yet. None when there is no
/// tap: what was loud is then talk or noise. Nothing, which means all of it, when everything was to be kept. Throws
/// InputError.
[[nodiscard]] std::optional<std::vector<Span>> spans_to_recover(const std::filesystem::path& journal);

} // namespace retap::audio
