// What a text must be to be kept for good.
#pragma once

#include <string>
#include <string_view>

namespace retap::visit {

/// Longest text kept in one field, in bytes. Documents (analyses) are no fields.
inline constexpr std::size_t longest_text = 20000;

/// Throws InputError, naming `what`, unless the text is UTF-8 without control characters (line ends and tabs are fine)
/// and not longer than longest_text: anything else would not survive an export.
void check_text(std::string_view text, const std::string& what);

/// Whether there is nothing to be seen in it: no characters, or spaces of any kind and line ends only. UTF-8.
[[nodiscard]] bool is_blank(std::string_view text);

/// Whether a label looks like a person's name: two or more words of letters only that begin in capitals. A hint, not a
/// judgement.
[[nodiscard]] bool looks_like_a_name(std::string_view label);

} // namespace retap::visit
