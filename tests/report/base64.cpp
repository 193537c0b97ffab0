#include "report/base64.hpp"

#include <doctest/doctest.h>

using retap::report::base64;

TEST_CASE("Base64 gives the test vectors of RFC 4648, section 10") {
    CHECK(base64("").empty());
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
}

TEST_CASE("Base64 carries bytes above 127") {
    CHECK(base64("\xFF\xFE\xFB") == "//77"); // 11111111 11111110 11111011 -> 63 63 59 59
}
