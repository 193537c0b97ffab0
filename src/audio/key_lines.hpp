// Small texts of "key: value" lines, as they stand at the head of a journal and in the comment of a finished take.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::audio {

using KeyLines = std::vector<std::pair<std::string, std::string>>;

/// Line ends and backslashes in values are written as \n, \r and \\. Keys have no colon and no line end (asserted).
[[nodiscard]] std::string write_key_lines(const KeyLines& lines);
/// Lines without a colon are left out.
[[nodiscard]] KeyLines read_key_lines(std::string_view text);
/// The first value of `key`; empty when there is none.
[[nodiscard]] std::string value_of(const KeyLines& lines, std::string_view key);

/// Digits that read back to the very same number.
[[nodiscard]] std::string write_number(double value);
/// Nothing when `text` is not a number and no more than that.
[[nodiscard]] std::optional<double> read_number(std::string_view text);

} // namespace retap::audio
