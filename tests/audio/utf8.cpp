#include "utf8.hpp"

#include <doctest/doctest.h>

using namespace retap;

TEST_CASE("well-formed UTF-8 is known from what only looks like it") {
    // Table 3-7 of the Unicode standard, Well-Formed UTF-8 Byte Sequences: the edges of each row, and one past them
    for (const char* good : {"", "plain", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
                             "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
        CHECK(is_utf8(good));
    }
    for (const char* bad : {"\x80", "\xC0\x80", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF",
                            "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xC3", "\xE2\x82", "\xE2\x28\xA1", "a\xFF"}) {
        CHECK_FALSE(is_utf8(bad));
    }
}

TEST_CASE("bytes that are not UTF-8 become one replacement character each, and nothing else changes") {
    CHECK(as_utf8("caf\xC3\xA9 \xE2\x82\xAC") == "caf\xC3\xA9 \xE2\x82\xAC");
    CHECK(as_utf8("caf\xE9.wav") == "caf\xEF\xBF\xBD.wav");
    CHECK(as_utf8("\xE2\x82") == "\xEF\xBF\xBD\xEF\xBF\xBD"); // a sequence that was cut off
    CHECK(as_utf8("").empty());
}
