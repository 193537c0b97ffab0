#include "dsp/stream/recent_sound.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

using retap::dsp::RecentSound;

TEST_CASE("the last samples are found by their number, whatever blocks they came in, and zeros where there are none") {
    // Twin: everything that was ever pushed. Samples are their own numbers, and one more.
    constexpr std::int64_t kept = 50;
    for (const std::size_t block : {1U, 7U, 23U, 50U}) {
        RecentSound sound(kept);
        std::vector<float> all;
        while (all.size() < 400) {
            std::vector<float> next;
            while (next.size() < block) {
                next.push_back(static_cast<float>(all.size() + next.size() + 1));
            }
            sound.push(next);
            all.insert(all.end(), next.begin(), next.end());
            REQUIRE(sound.end() == std::ssize(all));
            CHECK(sound.end() - sound.begin() >= std::min(kept, sound.end()));
            CHECK(sound.end() - sound.begin() <= 2 * kept);
            const std::int64_t from = sound.end() - kept + 3;
            const std::int64_t to = sound.end() + 2;
            const std::vector<float> cut = sound.cut(from, to);
            REQUIRE(std::ssize(cut) == to - from);
            for (std::int64_t i = from; i < to; ++i) {
                const bool there = i >= 0 && i < std::ssize(all);
                CHECK(cut[static_cast<std::size_t>(i - from)] == (there ? all[static_cast<std::size_t>(i)] : 0.0F));
            }
            const auto view = sound.view(from, to);
            REQUIRE(std::ssize(view) == std::min(kept - 3, sound.end()));
            CHECK(view.back() == all.back());
        }
        CHECK(sound.cut(0, 3) == std::vector<float>(3, 0.0F)); // long let go
        CHECK(sound.view(0, 3).empty());
        CHECK(sound.view(sound.end() + 1, sound.end() + 4).empty());
    }
}

TEST_CASE("before the first sample there is nothing") {
    const RecentSound sound(10);
    CHECK(sound.end() == 0);
    CHECK(sound.view(-3, 3).empty());
    CHECK(sound.cut(-1, 1) == std::vector<float>{0.0F, 0.0F});
}
