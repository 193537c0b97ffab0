#include "audio/keeper.hpp"

#include "recording_sink.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>
#include <numeric>
#include <span>
#include <utility>
#include <vector>

using namespace retap::audio;
using retap::test::SeenKept;

namespace {

// At 100 frames a second the margin of 0.5 s is 50 frames, and a tap may be reported up to 100 frames late. Every
// sample is its own position.
constexpr StreamFormat format{.sample_rate_hz = 100.0, .channels = 1};

class Feeder {
public:
    explicit Feeder(bool keep_all = false) : keeper(format, {.keep_all = keep_all}, kept) {}

    /// Feeds up to `position` in blocks of `size`.
    void to(std::uint64_t position, std::size_t size = 7) {
        while (keeper.position() < position) {
            std::vector<float> block(std::min<std::size_t>(size, position - keeper.position()));
            std::iota(block.begin(), block.end(), static_cast<float>(keeper.position()));
            keeper.block(block);
        }
    }
    /// Begin and end of every part, after checking that the samples are those that were there.
    std::vector<std::pair<std::uint64_t, std::uint64_t>> parts() const {
        std::vector<std::pair<std::uint64_t, std::uint64_t>> found;
        for (const auto& part : kept.parts) {
            for (std::size_t i = 0; i < part.samples.size(); ++i) {
                REQUIRE(part.samples[i] == static_cast<float>(part.position + i));
            }
            found.emplace_back(part.position, part.position + part.samples.size());
        }
        return found;
    }

    SeenKept kept;
    Keeper keeper;
};
using Parts = std::vector<std::pair<std::uint64_t, std::uint64_t>>;

} // namespace

TEST_CASE("half a second before the first tap and half a second after the last one are kept, and no more") {
    Feeder feeder;
    feeder.to(1000);
    CHECK(feeder.kept.parts.empty()); // nothing leaves before a tap
    feeder.keeper.tap_at(9.90);
    feeder.to(1025);
    CHECK(feeder.parts() == Parts{{940, 1025}}); // the pre-roll, and what comes goes straight on
    feeder.keeper.tap_at(10.20);
    feeder.to(2000);
    CHECK(feeder.parts() == Parts{{940, 1070}});
}

TEST_CASE("talk in a long pause between taps is not kept, and the parts tell where it was") {
    Feeder feeder;
    feeder.to(110);
    feeder.keeper.tap_at(1.00);
    feeder.to(410);
    feeder.keeper.tap_at(4.00);
    feeder.to(600);
    CHECK(feeder.parts() == Parts{{50, 150}, {350, 450}});
}

TEST_CASE("a pause of up to twice the margin is kept whole") {
    Feeder feeder;
    feeder.to(110);
    feeder.keeper.tap_at(1.00);
    feeder.to(215);
    feeder.keeper.tap_at(2.00);
    feeder.to(600);
    CHECK(feeder.parts() == Parts{{50, 250}});
}

TEST_CASE("a tap at the very start keeps what there is before it") {
    Feeder feeder;
    feeder.to(30);
    feeder.keeper.tap_at(0.10);
    feeder.to(300);
    CHECK(feeder.parts() == Parts{{0, 60}});
}

TEST_CASE("a tap reported as late as allowed still has its whole margin, whatever the block size") {
    for (const std::size_t size : {1U, 7U, 100U, 1000U}) {
        CAPTURE(size);
        Feeder feeder;
        feeder.to(1100, size);
        feeder.keeper.tap_at(10.00);
        CHECK(feeder.parts() == Parts{{950, 1050}});
    }
}

TEST_CASE("everything is kept at once when everything shall be kept") {
    Feeder feeder(true);
    feeder.to(123);
    CHECK(feeder.parts() == Parts{{0, 123}});
    feeder.keeper.tap_at(1.0);
    feeder.to(1000);
    CHECK(feeder.parts() == Parts{{0, 1000}});
}

TEST_CASE("gaps are passed on in their places, and those in forgotten sound are forgotten with it") {
    Feeder feeder;
    feeder.to(20);
    feeder.keeper.gap(1); // forgotten
    feeder.to(980);
    feeder.keeper.gap(2); // in the pre-roll
    feeder.to(1010);
    feeder.keeper.tap_at(10.00);
    feeder.keeper.gap(3); // as it comes
    feeder.to(1060);
    feeder.keeper.gap(4); // after the margin, forgotten
    feeder.to(1500);
    CHECK(feeder.parts() == Parts{{950, 1050}});
    CHECK(feeder.kept.gaps == Parts{{980, 2}, {1010, 3}});
}

TEST_CASE("two channels stay together") {
    SeenKept kept(2);
    Keeper keeper({.sample_rate_hz = 100.0, .channels = 2}, {}, kept);
    std::vector<float> frames(400);
    std::iota(frames.begin(), frames.end(), 0.0F);
    keeper.block(frames); // 200 frames
    keeper.tap_at(1.0);
    REQUIRE(kept.parts.size() == 1);
    CHECK(kept.parts[0].position == 50);
    CHECK(kept.parts[0].samples == std::vector<float>(frames.begin() + 100, frames.begin() + 300));
}
