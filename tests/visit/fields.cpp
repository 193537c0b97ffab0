#include "visit/fields.hpp"

#include "error.hpp"

#include <doctest/doctest.h>

using retap::StoreError;
using retap::visit::Fields;

TEST_CASE("fields are one line each, and come back as they went in") {
    Fields fields;
    fields.add("words", std::string("a=b\\ two\nlines\n"));
    fields.add("empty", std::string());
    fields.add("absent", std::optional<std::string>());
    CHECK(fields.text() == "words=a=b\\\\ two\\nlines\\n\nempty=\n");
    CHECK(Fields::read(fields.text()) == fields);
    CHECK(Fields::read("").all().empty());
    CHECK(fields.get("words") == "a=b\\ two\nlines\n");
    CHECK_FALSE(fields.find("absent"));
}

TEST_CASE("a text that is not what fields write is refused") {
    for (const char* text : {"no equals\n", "a=b", "a=1\na=2\n", "a=\\x\n", "a=\\"}) {
        CAPTURE(text);
        CHECK_THROWS_AS((void)Fields::read(text), StoreError);
    }
    CHECK_THROWS_AS((void)Fields::read("a=1\n").get("b"), StoreError);
}
