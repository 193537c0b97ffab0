#include "audio/sample_ring.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>
#include <random>
#include <span>
#include <thread>
#include <vector>

using retap::audio::SampleRing;

TEST_CASE("a ring gives back what was put in, in order, across its end") {
    SampleRing ring(8);
    std::vector<float> out(8);
    float next_in = 0.0F;
    float next_out = 0.0F;
    for (int round = 0; round < 50; ++round) {
        const std::vector<float> in = {next_in, next_in + 1.0F, next_in + 2.0F};
        next_in += 3.0F;
        REQUIRE(ring.push(in));
        REQUIRE(ring.pop(out) == 3);
        for (std::size_t i = 0; i < 3; ++i) {
            CHECK(out[i] == next_out);
            next_out += 1.0F;
        }
    }
}

TEST_CASE("a block that does not fit leaves the ring as it was") {
    SampleRing ring(8);
    const std::vector<float> six = {1, 2, 3, 4, 5, 6};
    REQUIRE(ring.push(six));
    CHECK_FALSE(ring.has_room_for(3));
    CHECK_FALSE(ring.push(std::span(six).first(3)));
    CHECK(ring.has_room_for(2));
    CHECK(ring.push(std::span(six).first(2)));
    std::vector<float> out(8);
    REQUIRE(ring.pop(out) == 8);
    CHECK(out == std::vector<float>{1, 2, 3, 4, 5, 6, 1, 2});
    CHECK(ring.pop(out) == 0);
}

TEST_CASE("two threads at full speed pass a million numbered samples through a small ring without a fault") {
    constexpr std::uint32_t total = 1U << 20U; // every number is exact in float
    SampleRing ring(1000);
    std::thread writer([&] {
        std::mt19937 random(20240611); // fixed seed: the block sizes
        std::vector<float> block;
        for (std::uint32_t next = 0; next < total;) {
            block.resize(std::min<std::size_t>(1 + random() % 700, total - next));
            for (float& sample : block) {
                sample = static_cast<float>(next++);
            }
            while (!ring.push(block)) {
                std::this_thread::yield();
            }
        }
    });
    std::vector<float> out(333);
    std::uint32_t seen = 0;
    std::uint32_t faults = 0;
    while (seen < total) {
        const std::size_t got = ring.pop(out);
        for (std::size_t i = 0; i < got; ++i) {
            faults += out[i] == static_cast<float>(seen++) ? 0U : 1U;
        }
        if (got == 0) {
            std::this_thread::yield();
        }
    }
    writer.join();
    CHECK(faults == 0);
    CHECK(ring.pushed() == total);
}
