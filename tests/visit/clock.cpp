#include "visit/clock.hpp"

#include "time_zone.hpp"

#include <doctest/doctest.h>

using namespace retap::visit;

namespace {

// Rules of central European time as POSIX.1-2017, section 8.3, writes them; the changes of 2031 fall on 30 March and 26
// October, their last Sundays.
constexpr const char* central_europe = "CET-1CEST,M3.5.0,M10.5.0/3";

std::string begin_of(std::string_view text, std::string_view now = "2031-05-14T12:00:00Z") {
    const auto span = local_span(text, *moment_from(now));
    return span ? utc_text(span->begin) : "none";
}

std::string end_of(std::string_view text, std::string_view now = "2031-05-14T12:00:00Z") {
    const auto span = local_span(text, *moment_from(now));
    return span ? utc_text(span->end) : "none";
}

} // namespace

TEST_CASE("a time is written in UTC and read back, and what is no time is told") {
    // 1000000000 seconds after the epoch are 2001-09-09T01:46:40Z (POSIX.1-2017, section 4.16, by arithmetic)
    CHECK(utc_text(std::chrono::system_clock::from_time_t(1000000000)) == "2001-09-09T01:46:40Z");
    CHECK(moment_from("2001-09-09T01:46:40Z") == std::chrono::system_clock::from_time_t(1000000000));
    for (const char* text :
         {"", "soon", "2001-09-09T01:46:40", "2001-09-09 01:46:40Z", "2001-09-09T01:46:4xZ", "2001-09-09T01:46:40Z "}) {
        CAPTURE(text);
        CHECK_FALSE(moment_from(text));
    }
}

TEST_CASE("a time is shown as the clock on the wall had it, with the zone") {
    const retap::test::TimeZone zone(central_europe);
    CHECK(local_text("2031-05-14T08:30:00Z") == "2031-05-14 10:30 CEST");
    CHECK(local_text("2031-12-31T23:30:59Z") == "2032-01-01 00:30 CET");
    CHECK(local_text("some day") == "some day");
}

TEST_CASE("days, months and years are those of the place, also where clocks change") {
    const retap::test::TimeZone zone(central_europe);
    CHECK(begin_of("2031-05-14") == "2031-05-13T22:00:00Z");
    CHECK(end_of("2031-05-14") == "2031-05-14T22:00:00Z");
    CHECK(begin_of("2031-03-30") == "2031-03-29T23:00:00Z");
    CHECK(end_of("2031-03-30") == "2031-03-30T22:00:00Z"); // a day of 23 hours
    CHECK(begin_of("2031-12") == "2031-11-30T23:00:00Z");
    CHECK(end_of("2031-12") == "2031-12-31T23:00:00Z");
    CHECK(begin_of("2031") == "2030-12-31T23:00:00Z");
    CHECK(begin_of("today", "2031-05-14T22:30:00Z") == "2031-05-14T22:00:00Z");
    CHECK(begin_of("yesterday", "2031-05-14T22:30:00Z") == "2031-05-13T22:00:00Z");
    CHECK(end_of("yesterday", "2031-05-14T22:30:00Z") == "2031-05-14T22:00:00Z");
    CHECK(utc_text(start_of_day(*moment_from("2031-10-26T10:00:00Z"))) == "2031-10-25T22:00:00Z");
}

TEST_CASE("days that no calendar has and other texts are no days") {
    for (const char* text : {"2031-02-29", "2031-13", "2031-00-01", "31-05-14", "tomorrow", "", "2031-5-14"}) {
        CAPTURE(text);
        CHECK(begin_of(text) == "none");
    }
    CHECK(begin_of("2032-02-29") != "none");
}
