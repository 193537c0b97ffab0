#include "report/base64.hpp"

#include <doctest/doctest.h>

using retap::report::base64;
using retap::report::from_base64;

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

TEST_CASE("Base64 is read back: the vectors of RFC 4648 and every byte value at every place in a group") {
    CHECK(from_base64("") == "");
    CHECK(from_base64("Zg==") == "f");
    CHECK(from_base64("Zm8=") == "fo");
    CHECK(from_base64("Zm9vYmFy") == "foobar");
    for (std::size_t length = 0; length < 4; ++length) {
        for (int value = 0; value < 256; ++value) {
            const std::string bytes = std::string(length, 'x') + static_cast<char>(value);
            CHECK(from_base64(base64(bytes)) == bytes);
        }
    }
}

TEST_CASE("what base64 does not write is refused") {
    for (const char* text :
         {"Zg", "Zg=", "Z===", "====", "Zh==", "Zm9=", "Zm9v\n", "Zm 9", "Zg==Zg==", "Zm-_", "Zm9v\n\n\n\n"}) {
        CAPTURE(text);
        CHECK_FALSE(from_base64(text));
    }
}
