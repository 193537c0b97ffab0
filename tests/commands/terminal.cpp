#include "terminal.hpp"

#include <doctest/doctest.h>

using retap::commands::shown;
using retap::commands::time_left;
using retap::commands::with_plain_signs;

TEST_CASE("what is left is the pace so far times what remains, in seconds and then in minutes") {
    CHECK(time_left(10.0, 0, 50).empty());
    CHECK(time_left(10.0, 10, 50) == "about 40 s left");
    CHECK(time_left(60.0, 1, 4) == "about 3 min left");
    CHECK(time_left(1.0, 5, 5) == "about 0 s left");
}

TEST_CASE("typographic signs become those of a keyboard, and other characters stay") {
    CHECK(with_plain_signs("\u2212"
                           "1.5\u00a0"
                           "dB \u2013 \u00b1"
                           "2 \u00b5s") == "-1.5 dB - \u00b1"
                                           "2 \u00b5s");
}

TEST_CASE("what is shown on a terminal holds no code that could steer it") {
    CHECK(shown("A. M\u00fcller\n\tsecond line") == "A. M\u00fcller\n\tsecond line");
    CHECK(shown("\x1b[2Jgone\a\r\x7f") == "\uFFFD[2Jgone\uFFFD\uFFFD\uFFFD");
    CHECK(shown("\u009b31m") == "\uFFFD31m"); // the one-character form of escape and bracket
    CHECK(shown("cod\u202egnp.exe \u2066x\u2069") == "cod\uFFFDgnp.exe \uFFFDx\uFFFD");
    CHECK(shown("bad \xff\xc2") == "bad \uFFFD\uFFFD");
    CHECK(shown("minus \u2212, dash \u2013, \u2022") == "minus \u2212, dash \u2013, \u2022");
}
