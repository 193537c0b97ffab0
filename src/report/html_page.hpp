// The shell of every self-contained page: head, styles, script and cautions around sections made elsewhere.
#pragma once

#include "report/html_report.hpp"

#include <string>
#include <string_view>

namespace retap::report {

/// A complete HTML document (UTF-8) around `body`, which is markup made by this layer. Its content-security policy
/// forbids every fetch; style and script stand inside. The cautions follow the body.
[[nodiscard]] std::string html_page(const ReportHeading& heading, std::string_view body);

/// A sound as a data: URI; empty when there is none.
[[nodiscard]] std::string data_uri(const std::optional<Sound>& sound);

} // namespace retap::report
