#define DOCTEST_CONFIG_IMPLEMENT
#include "skipped.hpp"

#include <doctest/doctest.h>

#include <string>

namespace {
bool any_skipped = false;
}

void retap::test::skipped(std::string_view why) {
    any_skipped = true;
    MESSAGE("skipped: ", std::string(why));
}

int main(int argc, char** argv) {
    doctest::Context context(argc, argv);
    const int status = context.run();
    return status == 0 && any_skipped ? retap::test::skip_status : status;
}

// Left out of every run but the one in tests/CMakeLists.txt that asks for it.
TEST_CASE("a test that is skipped" * doctest::skip()) {
    retap::test::skipped("as this test is made to be");
}
