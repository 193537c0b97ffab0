#include "columns.hpp"

#include <doctest/doctest.h>

using retap::commands::Columns;
using retap::commands::width_of;

TEST_CASE("numbers line up to the right and words to the left, whatever their bytes") {
    using enum Columns::Align;
    Columns columns({left, right, left});
    columns.add({"a", "1.0", "x"});
    columns.add({"long", "−10.0", ""}); // a true minus sign is three bytes and one character
    CHECK(columns.text("> ") == "> a       1.0  x\n"
                                "> long  −10.0\n");
}

TEST_CASE("width counts characters") {
    CHECK(width_of("") == 0);
    CHECK(width_of("±0.1 µm") == 7);
}
