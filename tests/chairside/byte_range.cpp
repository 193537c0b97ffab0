#include "chairside/byte_range.hpp"

#include <doctest/doctest.h>

using namespace retap::chairside;

TEST_CASE("A range is read as RFC 9110 has it") {
    // RFC 9110, 14.1.2, gives these for a representation of 10000 bytes.
    const auto part = [](const char* header, std::size_t first, std::size_t last) {
        const AskedRange asked = asked_range(header, 10000);
        return asked.kind == AskedRange::Kind::part && asked.part.first == first && asked.part.last == last;
    };
    CHECK(part("bytes=0-499", 0, 499));
    CHECK(part("bytes=500-999", 500, 999));
    CHECK(part("bytes=-500", 9500, 9999));
    CHECK(part("bytes=9500-", 9500, 9999));
    CHECK(part("bytes=0-99999", 0, 9999));
    CHECK(part("bytes=-99999", 0, 9999));
}

TEST_CASE("Several ranges and what is none give the whole, and what lies beyond the end nothing") {
    for (const char* header : {"", "bytes", "bytes=", "bytes=-", "bytes=5", "bytes=5-4", "bytes=0-1,3-4", "bytes= 0-1",
                               "bytes=-1-2", "lines=0-1", "bytes=99999999999999999999-"}) {
        CAPTURE(header);
        CHECK(asked_range(header, 10000).kind == AskedRange::Kind::whole);
    }
    CHECK(asked_range("bytes=10000-", 10000).kind == AskedRange::Kind::none);
    CHECK(asked_range("bytes=-0", 10000).kind == AskedRange::Kind::none);
    CHECK(asked_range("bytes=0-", 0).kind == AskedRange::Kind::none);
}
