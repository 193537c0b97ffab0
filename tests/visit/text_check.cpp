#include "visit/text_check.hpp"

#include "error.hpp"

#include <doctest/doctest.h>

using namespace retap::visit;

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

TEST_CASE("texts with control characters, bad bytes or too much length are refused by name") {
    CHECK_NOTHROW(check_text("two\nlines\tand a tab", "words"));
    CHECK_THROWS_WITH_AS(check_text("bell\a", "words"),
                         "The text for words has control characters in it. Type it again.", retap::InputError);
    CHECK_THROWS_AS(check_text(std::string_view("nul\0", 4), "words"), retap::InputError);
    CHECK_THROWS_AS(check_text("\xFF", "words"), retap::InputError);
    CHECK_THROWS_AS(check_text(std::string(longest_text + 1, 'x'), "words"), retap::InputError);
    CHECK_NOTHROW(check_text(std::string(longest_text, 'x'), "words"));
}

TEST_CASE("a label that looks like a person's name is noticed, a chart label is not") {
    for (const char* name : {"Mary Example", "Jos\xC3\xA9 Beispiel", "Anna-maria Muster", "Dr. Example Person"}) {
        CAPTURE(name);
        CHECK(looks_like_a_name(name));
    }
    for (const char* label : {"C-1042", "1042", "MO 17", "room 3 chair 2", "Chair", "ABC DEF", ""}) {
        CAPTURE(label);
        CHECK_FALSE(looks_like_a_name(label));
    }
}
