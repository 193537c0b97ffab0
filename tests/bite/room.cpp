#include "bite/room.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace retap::bite;

namespace {
std::vector<double> tail_of_a_click(const Room& room) {
    std::vector<double> sound(48000, 0.0);
    sound[0] = 1.0;
    add_room(sound, 48000.0, room);
    sound[0] -= 1.0;
    return sound;
}

// ISO 3382-1: straight line through -5 and -25 dB of the backward-integrated energy, extrapolated to -60 dB.
double reverberation_s(const std::vector<double>& tail) {
    std::vector<double> left(tail.size() + 1, 0.0);
    for (std::size_t n = tail.size(); n-- > 0;) {
        left[n] = left[n + 1] + tail[n] * tail[n];
    }
    const auto when = [&](double db) {
        const double level = left[0] * std::pow(10.0, db / 10.0);
        return static_cast<double>(std::find_if(left.begin(), left.end(), [&](double e) { return e < level; }) -
                                   left.begin()) /
               48000.0;
    };
    return 3.0 * (when(-25.0) - when(-5.0));
}
} // namespace

TEST_CASE("the room dies away as fast as it was asked to") {
    for (const double asked : {0.3, 0.45, 0.6}) {
        CAPTURE(asked);
        // High frequencies die faster, so a click's tail is a little shorter than the mid-frequency value.
        CHECK(reverberation_s(tail_of_a_click({.reverberation_s = asked})) == doctest::Approx(asked).epsilon(0.2));
    }
}

TEST_CASE("the tail has its level and begins after the delay") {
    const auto tail = tail_of_a_click({.level_db = -30.0, .delay_s = 0.006});
    double energy = 0.0;
    for (const double s : tail) {
        energy += s * s;
    }
    CHECK(10.0 * std::log10(energy) == doctest::Approx(-30.0).epsilon(0.01));
    CHECK(std::all_of(tail.begin(), tail.begin() + 288, [](double s) { return std::abs(s) < 1e-12; }));
}

TEST_CASE("silence in a room stays silent") {
    std::vector<double> sound(1000, 0.0);
    add_room(sound, 48000.0, {});
    CHECK(rms(sound) == 0.0);
}
