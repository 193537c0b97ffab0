// Times: kept in UTC, shown in the time of the place.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace retap::visit {

using Moment = std::chrono::system_clock::time_point;

/// As stamps note it, UTC to the second: "2031-05-14T08:32:07Z".
[[nodiscard]] std::string utc_text(Moment moment);
/// Nothing when it is not such a text.
[[nodiscard]] std::optional<Moment> moment_from(std::string_view utc);

/// "2031-05-14 10:32 CEST": the local time, with the name of its zone. A text that is no time comes back as it is.
[[nodiscard]] std::string local_text(std::string_view utc);

/// The midnight with which the local day of this moment began.
[[nodiscard]] Moment start_of_day(Moment moment);

/// A span of local time, the end not included.
struct Span {
    Moment begin;
    Moment end;
};
/// "2031", "2031-05", "2031-05-14", "today" or "yesterday", as days of the local calendar. Nothing for other texts and
/// for days that no calendar has.
[[nodiscard]] std::optional<Span> local_span(std::string_view text, Moment now);

} // namespace retap::visit
