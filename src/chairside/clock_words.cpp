#include "chairside/clock_words.hpp"

#include <array>
#include <ctime>

namespace retap::chairside {

namespace {

bool same_day(const std::tm& a, const std::tm& b) {
    return a.tm_year == b.tm_year && a.tm_yday == b.tm_yday;
}

} // namespace

DayAndTime day_and_time(std::string_view utc, Moment now) {
    static constexpr std::array<const char*, 12> months{"January",   "February", "March",    "April",
                                                        "May",       "June",     "July",     "August",
                                                        "September", "October",  "November", "December"};
    const auto moment = visit::moment_from(utc);
    if (!moment) {
        return {std::string(utc), {}};
    }
    const std::time_t seconds = std::chrono::system_clock::to_time_t(*moment);
    std::tm then{};
    localtime_r(&seconds, &then);
    std::tm today{};
    const std::time_t now_seconds = std::chrono::system_clock::to_time_t(now);
    localtime_r(&now_seconds, &today);
    std::tm yesterday = today;
    yesterday.tm_mday -= 1;
    yesterday.tm_hour = 12; // midday exists on every day, whatever the clocks do at night
    yesterday.tm_isdst = -1;
    mktime(&yesterday);

    std::array<char, 8> time{};
    const std::size_t length = std::strftime(time.data(), time.size(), "%H:%M", &then);
    std::string day = std::to_string(then.tm_mday) + " " + months.at(static_cast<std::size_t>(then.tm_mon)) + " " +
                      std::to_string(then.tm_year + 1900);
    if (same_day(then, today)) {
        day = "Today";
    } else if (same_day(then, yesterday)) {
        day = "Yesterday";
    }
    return {day, {time.data(), length}};
}

} // namespace retap::chairside
