// A time zone for one test.
#pragma once

#include <cstdlib>
#include <ctime>
#include <string>

namespace retap::test {

struct TimeZone {
    explicit TimeZone(const char* name) {
        if (const char* const set = std::getenv("TZ")) {
            before = set;
        }
        setenv("TZ", name, 1);
        tzset();
    }
    ~TimeZone() {
        before.empty() ? unsetenv("TZ") : setenv("TZ", before.c_str(), 1);
        tzset();
    }
    TimeZone(const TimeZone&) = delete;
    TimeZone& operator=(const TimeZone&) = delete;
    TimeZone(TimeZone&&) = delete;
    TimeZone& operator=(TimeZone&&) = delete;
    std::string before;
};

} // namespace retap::test
