#include "chart/agreement.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;

namespace {

Agreement of(const std::vector<std::vector<double>>& counts) {
    AgreementTable table(std::vector<std::string>(counts.size(), "x"));
    table.counts = counts;
    return agreement_of(table);
}

} // namespace

TEST_CASE("kappa of two examiners with 20, 5, 10, 15 is 0.40") {
    // The usual worked example of Cohen's kappa (for one, the article on it in Wikipedia): po 0.70, pe 0.50.
    const Agreement a = of({{20, 5}, {10, 15}});
    CHECK(a.cases == 50.0);
    CHECK(a.observed.value() == doctest::Approx(0.70));
    CHECK(a.kappa.value() == doctest::Approx(0.40));
}

TEST_CASE("kappa of three categories matches worked examples of Fleiss") {
    // Fleiss, Cohen and Everitt 1969, Psychol Bull 72:323, n = 200, and Fleiss, Statistical Methods for Rates and
    // Proportions; tables from memory, values computed independently from the definition.
    CHECK(of({{106, 10, 4}, {22, 28, 10}, {2, 12, 6}}).kappa.value() == doctest::Approx(0.4285714));
    CHECK(of({{75, 1, 4}, {5, 4, 1}, {0, 0, 10}}).kappa.value() == doctest::Approx(0.6764706));
}

TEST_CASE("perfect agreement is 1, agreement no better than chance is 0, and the opposite is negative") {
    CHECK(of({{5, 0}, {0, 7}}).kappa.value() == doctest::Approx(1.0));
    CHECK(of({{4, 4}, {4, 4}}).kappa.value() == doctest::Approx(0.0));
    CHECK(of({{0, 6}, {6, 0}}).kappa.value() == doctest::Approx(-1.0));
}

TEST_CASE("kappa is absent when both use one category only, and everything is without cases") {
    const Agreement one = of({{9, 0}, {0, 0}});
    CHECK(one.observed.value() == doctest::Approx(1.0));
    CHECK_FALSE(one.kappa);
    CHECK_FALSE(of({{0, 0}, {0, 0}}).observed);
}

TEST_CASE("holds are compared over the pairs that both tested") {
    const Agreement a = agreement_on_holds(read_holds("hold 16 17 26; slide 27; open 14", Numbering::iso),
                                           read_holds("hold 16 17; slide 26 27; open 24", Numbering::iso));
    CHECK(a.cases == 4.0); // 14 and 24 have one chart each
    CHECK(a.observed.value() == doctest::Approx(0.75));
    // by hand: rows hold 3, slide 1; columns hold 2, slide 2: pe = (3*2 + 1*2) / 16 = 0.5
    CHECK(a.kappa.value() == doctest::Approx(0.5));
}

TEST_CASE("stops are compared tooth by tooth, teeth that neither marked included") {
    const MarkChart first = read_marks("16 CF 26 MB/in 36 MB", Numbering::iso);
    const MarkChart second = read_marks("16 DMR 26 CF 46 MB", Numbering::iso);
    const auto teeth = teeth_for_agreement(first, second);
    CHECK(teeth.size() == 28);
    const Agreement a = agreement_on_stops(first, second, teeth);
    CHECK(a.observed.value() == doctest::Approx(25.0 / 28.0)); // 26, 36 and 46 differ
    CHECK(a.table.counts[2][2] == 1.0);
    CHECK(a.table.counts[1][2] == 1.0);
    CHECK(a.table.counts[0][0] == 24.0);
    CHECK(teeth_for_agreement(read_marks("18 CF", Numbering::iso), second).size() == 29);
}

TEST_CASE("weights are compared by the heaviest centric mark of each tooth that both marked") {
    const Agreement a = agreement_on_weights(read_marks("16 CF- MP+ 26 CF 36 MB", Numbering::iso),
                                             read_marks("16 CF+ 26 CF+ 46 MB", Numbering::iso));
    CHECK(a.cases == 2.0);
    CHECK(a.table.counts[2][2] == 1.0);
    CHECK(a.table.counts[1][2] == 1.0);
}
