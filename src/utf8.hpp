// Texts from outside (file names, what was typed) that need not be UTF-8.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace retap {

/// Bytes of the UTF-8 sequence at the start of `text`, which must not be empty; 0 when it is not well-formed (RFC 3629:
/// no overlong forms, no surrogates, nothing above U+10FFFF).
[[nodiscard]] std::size_t utf8_length(std::string_view text);

/// Whether all of it is well-formed.
[[nodiscard]] bool is_utf8(std::string_view text);

/// The text with every byte that is not UTF-8 shown as U+FFFD.
[[nodiscard]] std::string as_utf8(std::string_view text);

} // namespace retap
