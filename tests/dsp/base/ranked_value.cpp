#include "dsp/base/ranked_value.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <random>
#include <vector>

using namespace retap::dsp;

TEST_CASE("the value of a rank is that of the sorted list, whatever was guessed") {
    std::mt19937 engine(61);
    std::chi_squared_distribution<double> power(6.0);
    RankedValue ranked;
    for (const std::size_t size : {200U, 1U, 2U, 57U}) { // a shorter list after a longer one too
        std::vector<double> values(size);
        std::ranges::generate(values, [&] { return power(engine); });
        std::vector<double> sorted = values;
        std::ranges::sort(sorted);
        for (std::size_t rank = 0; rank < size; ++rank) {
            for (const double off : {0.0, 0.5, 0.89, 0.95, 1.0, 1.05, 1.2, 100.0}) {
                CHECK(ranked.find(values, rank, off * sorted[rank]) == sorted[rank]);
            }
        }
    }
}

TEST_CASE("the value of a rank is found among equal values and zeros") {
    RankedValue ranked;
    const std::vector<double> values{0.0, 3.0, 0.0, 3.0, 3.0, 0.0, 8.0};
    for (const double guess : {0.0, 3.0, 8.0}) {
        CHECK(ranked.find(values, 0, guess) == 0.0);
        CHECK(ranked.find(values, 2, guess) == 0.0);
        CHECK(ranked.find(values, 3, guess) == 3.0);
        CHECK(ranked.find(values, 5, guess) == 3.0);
        CHECK(ranked.find(values, 6, guess) == 8.0);
    }
}
