#include "visit/sha256.hpp"

#include <doctest/doctest.h>

using retap::visit::sha256;

TEST_CASE("SHA-256 gives the digests of the examples in FIPS 180 and of the empty message") {
    // NIST, Secure Hash Standard examples (csrc.nist.gov, SHA256.pdf): one block and two blocks
    CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}
