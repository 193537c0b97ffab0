// Base64 as in RFC 4648 section 4, for sounds inside a page.
#pragma once

#include <string>
#include <string_view>

namespace retap::report {

[[nodiscard]] std::string base64(std::string_view bytes);

} // namespace retap::report
