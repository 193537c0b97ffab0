// The files of the page, put into the program when it is built.
#pragma once

#include <string_view>

namespace retap::chairside {

[[nodiscard]] std::string_view index_html();
[[nodiscard]] std::string_view page_css();
[[nodiscard]] std::string_view page_js();

} // namespace retap::chairside
