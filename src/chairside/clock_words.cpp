#include "chairside/clock_words.hpp"

#include <array>
#include <cstdio>
#include <ctime>
#include <optional>

namespace retap::chairside {

namespace {

std::optional<std::time_t> seconds_of(std::string_view utc) {
    std::tm parts{};
    char end = 0;
    const std::string text(utc);
    // NOLINTNEXTLINE(cert-err34-c): the count of fields tells whether it was read, and the form is fixed
    const int read = std::sscanf(text.c_str(), "%4d-%2d-%2dT%2d:%2d:%2d%c", &parts.tm_year, &parts.tm_mon,
                                 &parts.tm_mday, &parts.tm_hour, &parts.tm_min, &parts.tm_sec, &end);
    if (read != 7 || end != 'Z') {
        return std::nullopt;
    }
    parts.tm_year -= 1900;
    parts.tm_mon -= 1;
    return timegm(&parts);
}

bool same_day(const std::tm& a, const std::tm& b) {
    return a.tm_year == b.tm_year && a.tm_yday == b.tm_yday;
}

} // namespace

std::string utc_text(Moment moment) {
    const std::time_t seconds = std::chrono::system_clock::to_time_t(moment);
    std::tm parts{};
    gmtime_r(&seconds, &parts);
    std::array<char, 32> text{};
    const std::size_t length = std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &parts);
    return {text.data(), length};
}

DayAndTime day_and_time(std::string_view utc, Moment now) {
    static constexpr std::array<const char*, 12> months{"January",   "February", "March",    "April",
                                                        "May",       "June",     "July",     "August",
                                                        "September", "October",  "November", "December"};
    const auto seconds = seconds_of(utc);
    if (!seconds) {
        return {std::string(utc), {}};
    }
    std::tm then{};
    localtime_r(&*seconds, &then);
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
