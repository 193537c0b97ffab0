#include "chairside/clock_words.hpp"

#include "time_zone.hpp"

#include <doctest/doctest.h>

#include <ctime>

using namespace retap::chairside;

namespace {

Moment at(std::time_t seconds) {
    return std::chrono::system_clock::from_time_t(seconds);
}

constexpr std::time_t noon = 1936612800; // 2031-05-15T12:00:00Z: 61 years, 15 of them leap years, and 134 days

} // namespace

TEST_CASE("Times are kept in UTC and read in the local zone") {
    const retap::test::TimeZone zone("XYZ-3"); // three hours ahead
    CHECK(utc_text(at(noon)) == "2031-05-15T12:00:00Z");
    const DayAndTime words = day_and_time("2031-05-15T08:32:07Z", at(noon));
    CHECK(words.day == "Today");
    CHECK(words.time == "11:32");
}

TEST_CASE("Days are those of the local zone") {
    const retap::test::TimeZone zone("XYZ-3");
    CHECK(day_and_time("2031-05-14T21:30:00Z", at(noon)).day == "Today"); // half past midnight here
    CHECK(day_and_time("2031-05-14T20:59:00Z", at(noon)).day == "Yesterday");
    CHECK(day_and_time("2031-05-13T20:30:00Z", at(noon)).day == "13 May 2031");
    CHECK(day_and_time("2030-05-15T12:00:00Z", at(noon)).day == "15 May 2030");
}

TEST_CASE("Yesterday crosses the turn of the year") {
    const retap::test::TimeZone zone("UTC");
    CHECK(day_and_time("2030-12-31T23:00:00Z", at(1924995600)).day == "Yesterday"); // 2031-01-01T01:00:00Z
}

TEST_CASE("What is no time is shown as it is") {
    CHECK(day_and_time("soon", at(noon)).day == "soon");
    CHECK(day_and_time("2031-05-14T08:32:07", at(noon)).time.empty());
}
