#include "audio/key_lines.hpp"

#include <doctest/doctest.h>

using namespace retap::audio;

TEST_CASE("lines read back as they were written, whatever is in the values") {
    const KeyLines lines = {{"a", "plain"}, {"b", "two\nlines \\n and a \\ \r"}, {"c", ""}, {"a", "again: yes"}};
    CHECK(read_key_lines(write_key_lines(lines)) == lines);
    CHECK(value_of(lines, "a") == "plain");
    CHECK(value_of(lines, "z").empty());
}

TEST_CASE("lines that are not ours are left out") {
    CHECK(read_key_lines("hello\n\nkey: value\nno end") == KeyLines{{"key", "value"}});
    CHECK(read_key_lines("").empty());
}

TEST_CASE("numbers read back exactly and words are not numbers") {
    for (const double value : {44100.0, 48000.0, 0.1, 47999.99999999999}) {
        CHECK(read_number(write_number(value)) == value);
    }
    for (const char* text : {"", "x", "1x", "nan", "inf", " 1"}) {
        CHECK_FALSE(read_number(text).has_value());
    }
}
