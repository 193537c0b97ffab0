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

TEST_CASE("a first sound that moved is told with its direction, and one that did not is") {
    MeasureComparison first = measure("first_sound", "ms");
    first.difference = 0.314;
    CHECK(
        plain_first_sound(first) ==
        "Whether the first contact leads the main impact by more or less than it did cannot be told from these taps.");
    first.finding = Finding::beyond;
    CHECK(plain_first_sound(first) ==
          "The first contact leads the main impact by 0.31 ms more than it did, as a high spot would.");
    first.difference = -0.314;
    CHECK(plain_first_sound(first) == "The first contact leads the main impact by 0.31 ms less than it did.");
    first.finding = Finding::within;
    CHECK(plain_first_sound(first) == "The first contact leads the main impact by as much as it did.");
}

TEST_CASE("contacts that came, went or moved are told in words of their own") {
    CHECK(plain_later_contacts({}) == "The contacts that can be told apart come as they did.");
    const auto said = [](double before_ms, double after_ms) {
        return plain_later_contacts({.before_ms = before_ms, .after_ms = after_ms, .p = 0.001, .weight = 3.9});
    };
    CHECK(said(0.0, 1.234) == "A later contact is heard 1.23 ms after the first; before, it was a single one.");
    CHECK(said(0.8, 0.0) == "A single contact is heard; before, another one came 0.80 ms later.");
    CHECK(said(0.8, 2.0) ==
          "The contacts are drawn out: the last one comes 2.00 ms after the first, and came 0.80 ms after it.");
    CHECK(said(2.0, 0.8) ==
          "The contacts are closer together: the last one comes 0.80 ms after the first, and came 2.00 ms after it.");
}

TEST_CASE("a change of level is told with what may be behind it") {
    CHECK(plain_level({.before_db = -20.0, .after_db = -29.0}) ==
          "The taps are 9 dB softer than before at the same setting: tapped more softly, or only one tooth meets.");
    CHECK(plain_level({.before_db = -29.0, .after_db = -20.0}) ==
          "The taps are 9 dB louder than before at the same setting: tapped harder, or more teeth meet.");
}
