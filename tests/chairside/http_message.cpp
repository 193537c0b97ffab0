#include "chairside/http_message.hpp"

#include <doctest/doctest.h>

using namespace retap::chairside;

TEST_CASE("Form fields are taken apart and unescaped") {
    const auto fields = form_fields("label=P-104%202&teeth=16+17&empty=&bare&z%C3%A4hne=%e6%ad%af");
    CHECK(fields.at("label") == "P-104 2");
    CHECK(fields.at("teeth") == "16 17");
    CHECK(fields.at("empty").empty());
    CHECK(fields.at("bare").empty());
    CHECK(fields.at("zähne") == "\u6b6f");
    CHECK(fields.size() == 5);
}

TEST_CASE("Escapes that are none stay as they are") {
    const auto fields = form_fields("a=%&b=%4&c=%zz&d=%+1&&=x");
    CHECK(fields.at("a") == "%");
    CHECK(fields.at("b") == "%4");
    CHECK(fields.at("c") == "%zz");
    CHECK(fields.at("d") == "% 1");
    CHECK(fields.at("") == "x");
    CHECK(form_fields("").empty());
}

TEST_CASE("A target is read into its path and its query") {
    const auto target = read_target("/api/vi%73its/a+b?label=A%20b&x");
    REQUIRE(target.has_value());
    CHECK(target->path == "/api/visits/a+b");
    CHECK(target->query.at("label") == "A b");
    CHECK(target->query.at("x").empty());
    for (const char* broken : {"", "page", "*", "/%", "/%4", "/%g0", "/a%00b", "http://x/"}) {
        CAPTURE(broken);
        CHECK_FALSE(read_target(broken).has_value());
    }
}
