#include "visit/clock.hpp"

#include <array>
#include <ctime>
#include <vector>

namespace retap::visit {

namespace {

using Clock = std::chrono::system_clock;

/// Whole numbers of the lengths given by zeros in `form`; all else in it stands for itself.
std::optional<std::vector<int>> numbers_in(std::string_view text, std::string_view form) {
    if (text.size() != form.size()) {
        return std::nullopt;
    }
    std::vector<int> numbers;
    for (std::size_t i = 0; i < form.size(); ++i) {
        if (form[i] != '0') {
            if (text[i] != form[i]) {
                return std::nullopt;
            }
            continue;
        }
        if (text[i] < '0' || text[i] > '9') {
            return std::nullopt;
        }
        if (i == 0 || form[i - 1] != '0') {
            numbers.push_back(0);
        }
        numbers.back() = 10 * numbers.back() + (text[i] - '0');
    }
    return numbers;
}

std::tm local(Moment moment) {
    const std::time_t seconds = Clock::to_time_t(moment);
    std::tm parts{};
    localtime_r(&seconds, &parts);
    return parts;
}

/// Midnight, or what comes first where clocks pass over it.
Moment midnight(int year, int month, int day) {
    std::tm parts{};
    parts.tm_year = year - 1900;
    parts.tm_mon = month - 1;
    parts.tm_mday = day;
    parts.tm_isdst = -1;
    return Clock::from_time_t(mktime(&parts));
}

Moment day_after(const std::tm& day, int days) {
    return midnight(day.tm_year + 1900, day.tm_mon + 1, day.tm_mday + days);
}

bool is_day(int year, int month, int day) {
    return std::chrono::year_month_day(std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                       std::chrono::day(static_cast<unsigned>(day)))
        .ok();
}

} // namespace

std::string utc_text(Moment moment) {
    const std::time_t seconds = Clock::to_time_t(moment);
    std::tm parts{};
    gmtime_r(&seconds, &parts);
    std::array<char, 32> text{};
    return {text.data(), std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &parts)};
}

std::optional<Moment> moment_from(std::string_view utc) {
    const auto numbers = numbers_in(utc, "0000-00-00T00:00:00Z");
    if (!numbers) {
        return std::nullopt;
    }
    std::tm parts{};
    parts.tm_year = numbers->at(0) - 1900;
    parts.tm_mon = numbers->at(1) - 1;
    parts.tm_mday = numbers->at(2);
    parts.tm_hour = numbers->at(3);
    parts.tm_min = numbers->at(4);
    parts.tm_sec = numbers->at(5);
    return Clock::from_time_t(timegm(&parts));
}

std::string local_text(std::string_view utc) {
    const auto moment = moment_from(utc);
    if (!moment) {
        return std::string(utc);
    }
    const std::tm parts = local(*moment);
    std::array<char, 64> text{};
    return {text.data(), std::strftime(text.data(), text.size(), "%Y-%m-%d %H:%M %Z", &parts)};
}

Moment start_of_day(Moment moment) {
    return day_after(local(moment), 0);
}

std::optional<Span> local_span(std::string_view text, Moment now) {
    if (text == "today") {
        return Span{start_of_day(now), day_after(local(now), 1)};
    }
    if (text == "yesterday") {
        return Span{day_after(local(now), -1), start_of_day(now)};
    }
    if (const auto day = numbers_in(text, "0000-00-00"); day && is_day(day->at(0), day->at(1), day->at(2))) {
        return Span{midnight(day->at(0), day->at(1), day->at(2)), midnight(day->at(0), day->at(1), day->at(2) + 1)};
    }
    if (const auto month = numbers_in(text, "0000-00"); month && is_day(month->at(0), month->at(1), 1)) {
        return Span{midnight(month->at(0), month->at(1), 1), midnight(month->at(0), month->at(1) + 1, 1)};
    }
    if (const auto year = numbers_in(text, "0000")) {
        return Span{midnight(year->at(0), 1, 1), midnight(year->at(0) + 1, 1, 1)};
    }
    return std::nullopt;
}

} // namespace retap::visit
