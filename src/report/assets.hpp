// The style and the script of the view, put into the program when it is built.
#pragma once

#include <string_view>

namespace retap::report {

[[nodiscard]] std::string_view style_css();
[[nodiscard]] std::string_view playback_js();
[[nodiscard]] std::string_view lesson_quiz_js();

} // namespace retap::report
