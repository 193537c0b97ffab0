#include "compare/plain_words.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

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

TEST_CASE("an unclear verdict asks for what is missing, and for nothing that was given") {
    const auto asks_for = [](const Grounds& grounds, const std::string& word) {
        const std::vector<std::string> reasons = verdict_reasons(Verdict::unclear, grounds);
        return std::ranges::any_of(reasons, [&](const std::string& r) { return r.find(word) != std::string::npos; });
    };
    CHECK(asks_for({.taps = 8, .snr_db = 40.0}, "More taps"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0}, "A repeat"));
    CHECK_FALSE(asks_for({.taps = 8, .snr_db = 40.0}, "quieter room"));
    CHECK_FALSE(asks_for({.taps = 12, .snr_db = 40.0}, "More taps"));
    CHECK_FALSE(asks_for({.taps = 8, .snr_db = 40.0, .repeated = true}, "A repeat"));
    CHECK(asks_for({.taps = 8, .snr_db = 30.0}, "quieter room"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .deep_enough = false}, "quieter room"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .deep_enough = false}, "lost in the noise"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .dull = true}, "too dull"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .recoloured = true}, "sits differently"));
}
