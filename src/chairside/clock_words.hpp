// Times as they are kept (UTC) and as they are read (this machine's day and hour).
#pragma once

#include "visit/clock.hpp"

#include <string>
#include <string_view>

namespace retap::chairside {

using visit::Moment;
using visit::utc_text;

struct DayAndTime {
    std::string day;  ///< "Today", "Yesterday" or "12 May 2031"
    std::string time; ///< "10:32"
};
/// Of a time as utc_text writes it, in the local time zone. The text itself as the day when it is not such a time.
[[nodiscard]] DayAndTime day_and_time(std::string_view utc, Moment now);

} // namespace retap::chairside
