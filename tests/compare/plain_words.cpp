#include "compare/plain_words.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace retap::compare;

namespace {

MeasureComparison measure(const std::string& name, const std::string& unit) {
    MeasureComparison made;
    made.name = name;
    made.unit = unit;
    return made;
}

} // namespace

TEST_CASE("a spread that neither side resolves is not called unchanged") {
    MeasureComparison spread = measure("onset_spread", "ms");
    CHECK(plain_measure(spread) ==
          "From first to last contact: not resolved on either side; most taps show one contact.");
    spread.after.middle = 0.8;
    spread.difference = 0.8;
    spread.low = 0.6;
    spread.high = 1.0;
    CHECK(plain_measure(spread) == "From first to last contact: longer by 0.80 ms.");
}
