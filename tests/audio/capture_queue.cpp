#include "audio/capture_queue.hpp"

#include "recording_sink.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>
#include <numeric>
#include <random>
#include <thread>
#include <vector>

using retap::audio::CaptureQueue;
using retap::test::SeenGap;
using retap::test::SeenSound;

namespace {

std::vector<float> counting(float from, std::size_t count) {
    std::vector<float> samples(count);
    std::iota(samples.begin(), samples.end(), from);
    return samples;
}

} // namespace

TEST_CASE("blocks of any size come out as one stream") {
    CaptureQueue queue({.sample_rate_hz = 1000.0, .channels = 2}, 4.0);
    SeenSound seen;
    queue.push(counting(0.0F, 2), false);
    queue.push(counting(2.0F, 1198), false);
    CHECK(queue.drain(seen) == 600);
    queue.push(counting(1200.0F, 6), false);
    CHECK(queue.drain(seen) == 3);
    CHECK(seen.samples == counting(0.0F, 1206));
    CHECK(seen.gaps.empty());
    CHECK(queue.counts().callbacks == 3);
    CHECK(queue.counts().frames == 603);
}

TEST_CASE("what the device lost is a gap of unknown length in its place") {
    CaptureQueue queue({.sample_rate_hz = 1000.0, .channels = 1}, 1.0);
    SeenSound seen;
    queue.push(counting(0.0F, 10), false);
    queue.push(counting(10.0F, 5), true);
    queue.push(counting(15.0F, 5), false);
    queue.drain(seen);
    CHECK(seen.samples == counting(0.0F, 20));
    CHECK(seen.gaps == std::vector<SeenGap>{{.at_sample = 10, .lost_frames = 0}});
    CHECK(queue.counts().device_overflows == 1);
    CHECK(queue.counts().lost_frames == 0);
}

TEST_CASE("what did not fit is counted and stands as one gap before the next samples that did") {
    CaptureQueue queue({.sample_rate_hz = 16.0, .channels = 1}, 1.0); // room for 16
    SeenSound seen;
    queue.push(counting(0.0F, 12), false);
    queue.push(counting(12.0F, 8), false); // does not fit
    queue.push(counting(20.0F, 7), false); // nor does this
    queue.drain(seen);
    CHECK(seen.gaps.empty()); // nothing came after it yet
    queue.push(counting(27.0F, 3), false);
    queue.drain(seen);
    auto expected = counting(0.0F, 12);
    for (const float sample : counting(27.0F, 3)) {
        expected.push_back(sample);
    }
    CHECK(seen.samples == expected);
    CHECK(seen.gaps == std::vector<SeenGap>{{.at_sample = 12, .lost_frames = 15}});
    CHECK(queue.counts().lost_frames == 15);
    CHECK(queue.counts().frames == 30);
}

TEST_CASE("more gaps than can be noted grow into one, and no samples come out without theirs") {
    CaptureQueue queue({.sample_rate_hz = 1000.0, .channels = 1}, 4.0);
    SeenSound seen;
    queue.push(counting(0.0F, 1), false);
    for (int i = 0; i < 100; ++i) { // room for 64 gaps
        queue.push(counting(static_cast<float>(1 + i), 1), true);
    }
    queue.drain(seen);
    CHECK(seen.gaps.size() == 64);
    CHECK(seen.samples == counting(0.0F, 65));
    CHECK(queue.counts().lost_frames == 36);
    queue.push(counting(101.0F, 1), false);
    queue.drain(seen);
    REQUIRE(seen.gaps.size() == 65);
    CHECK(seen.gaps.back() == SeenGap{.at_sample = 65, .lost_frames = 36});
    CHECK(seen.samples.back() == 101.0F);
}

TEST_CASE(
    "with a worker that falls asleep now and then, every missing frame is inside a gap and none is counted twice") {
    // Each sample is its own number, so the stream itself tells where something is missing, and how much.
    constexpr std::uint32_t total = 1U << 19U;
    CaptureQueue queue({.sample_rate_hz = 1000.0, .channels = 1}, 4.0);
    std::atomic<bool> done{false};
    std::thread callback([&] {
        std::mt19937 random(77); // fixed seed: block sizes
        std::vector<float> block;
        for (std::uint32_t next = 0; next < total;) {
            block.resize(std::min<std::size_t>(1 + random() % 500, total - next));
            for (float& sample : block) {
                sample = static_cast<float>(next++);
            }
            queue.push(block, false);
            if (random() % 8 == 0) {
                std::this_thread::sleep_for(std::chrono::microseconds(200));
            }
        }
        done = true;
    });
    SeenSound seen;
    std::mt19937 random(78);
    for (bool last = false; !last;) {
        last = done;
        queue.drain(seen);
        if (random() % 16 == 0) {
            std::this_thread::sleep_for(std::chrono::milliseconds(2));
        }
    }
    callback.join();
    std::vector<SeenGap> holes;
    float expected = 0.0F;
    for (std::size_t i = 0; i < seen.samples.size(); ++i) {
        if (seen.samples[i] != expected) {
            holes.push_back({.at_sample = i, .lost_frames = static_cast<std::uint64_t>(seen.samples[i] - expected)});
        }
        expected = seen.samples[i] + 1.0F;
    }
    CHECK(seen.gaps == holes);
    CHECK(!holes.empty()); // else this test shows nothing
    CHECK(seen.samples.size() + queue.counts().lost_frames == total);
}
