// Base64 as in RFC 4648 section 4, for sounds inside a page or a JSON document.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace retap::report {

[[nodiscard]] std::string base64(std::string_view bytes);
/// The bytes again. Nothing when the text is not what base64() writes: another length than a multiple of four, letters
/// outside the alphabet (line ends too), padding elsewhere than at the end, or bits left over that are not zero.
[[nodiscard]] std::optional<std::string> from_base64(std::string_view text);

} // namespace retap::report
