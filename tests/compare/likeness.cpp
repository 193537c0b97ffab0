#include "compare/likeness.hpp"

#include <doctest/doctest.h>

#include <array>
#include <limits>
#include <vector>

using namespace retap::compare;

TEST_CASE("a difference counts in times of its tolerance, whatever its sign") {
    for (const double difference : {0.3, -0.3}) {
        const RelativeSize size = relative_size(difference, 0.1, 0.2);
        CHECK(size.value == doctest::Approx(1.5));
        CHECK(size.low == doctest::Approx(1.0));
        CHECK(size.high == doctest::Approx(2.0));
    }
    CHECK(relative_size(0.1, 0.3, 0.2).low == 0.0); // an interval about none is not below none
}

TEST_CASE("a finding needs the whole interval on one side of the tolerance") {
    CHECK(judge({.value = 0.5, .low = 0.0, .high = 1.0}) == Finding::within);
    CHECK(judge({.value = 0.5, .low = 0.0, .high = 1.01}) == Finding::unclear);
    CHECK(judge({.value = 1.5, .low = 1.0, .high = 2.0}) == Finding::unclear);
    CHECK(judge({.value = 1.5, .low = 1.01, .high = 2.0}) == Finding::beyond);
}

TEST_CASE("the likeness is 100 for no difference, 50 at the tolerance, and falls towards nothing") {
    const auto score = [](double size) {
        return likeness_of(std::array{RelativeSize{.value = size, .low = size, .high = size}}, 4.0).score;
    };
    CHECK(score(0.0) == 100.0);
    CHECK(score(1.0) == doctest::Approx(50.0));
    CHECK(score(2.0) == doctest::Approx(100.0 / 17.0));
    CHECK(score(std::numeric_limits<double>::infinity()) == 0.0);
}

TEST_CASE("the worst difference sets the likeness, and the worst ends its interval") {
    const RelativeSize steady{.value = 0.6, .low = 0.5, .high = 0.7};
    const RelativeSize vague{.value = 0.2, .low = 0.0, .high = 3.0};
    const Likeness both = likeness_of(std::array{vague, steady}, 4.0);
    CHECK(both.score == likeness_of(std::array{steady}, 4.0).score);
    CHECK(both.high == likeness_of(std::array{steady}, 4.0).high);
    CHECK(both.low == likeness_of(std::array{vague}, 4.0).low);
}

TEST_CASE("all must be within for alike, and one beyond is different") {
    using enum Finding;
    const auto verdict = [](const std::vector<Finding>& findings) { return verdict_of(findings); };
    CHECK(verdict({within, within}) == Verdict::alike);
    CHECK(verdict({within, unclear}) == Verdict::unclear);
    CHECK(verdict({within, beyond}) == Verdict::different);
    CHECK(verdict({unclear, beyond}) == Verdict::different);
    CHECK(verdict({}) == Verdict::unclear);
}
