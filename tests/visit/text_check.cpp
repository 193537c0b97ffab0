#include "visit/text_check.hpp"

#include "error.hpp"

#include <doctest/doctest.h>

using namespace retap::visit;

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

TEST_CASE("a text of spaces only is blank, whatever spaces they are") {
    for (const char* text : {"", " ", "\t\n ", "\xC2\xA0", "\xE3\x80\x80 \xE2\x80\x8B", "\xEF\xBB\xBF"}) {
        CAPTURE(text);
        CHECK(is_blank(text));
    }
    for (const char* text : {"a", " - ", "\xC3\xA9", "\xE2\x80\x94", "\xEF\xBC\x8D"}) {
        CAPTURE(text);
        CHECK_FALSE(is_blank(text));
    }
}
