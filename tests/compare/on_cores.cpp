#include "compare/on_cores.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <stdexcept>
#include <vector>

using retap::compare::on_cores;

TEST_CASE("every piece of work is done once, whatever the number of cores") {
    for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{2}, std::size_t{97}}) {
        CAPTURE(count);
        std::vector<int> done(count, 0);
        on_cores(0, count, [&](int&, std::size_t i) { ++done[i]; });
        CHECK(done == std::vector<int>(count, 1));
    }
}

TEST_CASE("each thread works with a copy of its own, and the original stays as it was") {
    const std::vector<int> tool{1, 2, 3};
    std::vector<const int*> used(8, nullptr);
    on_cores(tool, used.size(), [&](std::vector<int>& own, std::size_t i) {
        own[0] = 7;
        used[i] = own.data();
    });
    CHECK(tool == std::vector<int>{1, 2, 3});
    for (const int* own : used) {
        CHECK(own != nullptr);
        CHECK(own != tool.data());
    }
}

TEST_CASE("what goes wrong in a piece of work is told to who asked for it") {
    for (const std::size_t bad : {std::size_t{0}, std::size_t{1}, std::size_t{7}}) {
        CAPTURE(bad);
        const auto work = [bad](int&, std::size_t i) {
            if (i == bad) {
                throw std::runtime_error("no");
            }
        };
        CHECK_THROWS_WITH_AS(on_cores(0, 8, work), "no", std::runtime_error);
    }
}
