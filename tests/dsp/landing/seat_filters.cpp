#include "dsp/landing/seat_filters.hpp"
#include "analysis_rate.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {}

TEST_CASE("seats are drawn the same again from the same seed, and otherwise from another") {
    const auto once = draw_seat_phases(3, 541, analysis_rate, 1.0, 5);
    CHECK(once.size() == 3);
    CHECK(once.front().size() == 541);
    CHECK(once == draw_seat_phases(3, 541, analysis_rate, 1.0, 5));
    CHECK(once != draw_seat_phases(3, 541, analysis_rate, 1.0, 6));
    CHECK(once[0] != once[1]);
}

TEST_CASE("the strength scales the phases, and none leaves none") {
    const auto full = draw_seat_phases(1, 541, analysis_rate, 1.0, 5).front();
    const auto half = draw_seat_phases(1, 541, analysis_rate, 0.5, 5).front();
    const auto none = draw_seat_phases(1, 541, analysis_rate, 0.0, 5).front();
    for (std::size_t k = 0; k < full.size(); ++k) {
        CHECK(std::abs(half[k] - 0.5F * full[k]) < 1e-4F);
        CHECK(none[k] == 0.0F);
    }
}

TEST_CASE("a tilt alone turns the phase as Bode's relation says") {
    // A slope of n times 20 dB a decade goes with n times a quarter turn (Bode 1945, from memory). 1 dB an octave
    // is 3.32 dB a decade: 0.166 * pi/2 = 0.261 rad, times the square root of 2 between two seats: 0.369 rad scatter at
    // 1 kHz.
    const auto seats = draw_seat_phases(400, 2049, analysis_rate, 1.0, 9, {.band_db = 0.0, .tilt_db_per_octave = 1.0});
    double sum = 0.0;
    for (const auto& phase : seats) {
        const auto at_2_khz = static_cast<double>(phase[171]); // 2 kHz: the band's ends pull least there
        sum += at_2_khz * at_2_khz;
    }
    const double scatter = std::sqrt(sum / 400.0);
    CHECK(scatter > 0.369 * 0.8);
    CHECK(scatter < 0.369 * 1.1);
}

TEST_CASE("more bands to an octave turn the phase more often") {
    // Where the phase crosses its mean from one bin to the next, from 200 Hz to 12 kHz, over many filters.
    const auto turns = [](std::size_t bands_an_octave) {
        const SeatScatter scatter{.bands_an_octave = bands_an_octave, .tilt_db_per_octave = 0.0};
        int count = 0;
        for (const auto& phase : draw_seat_phases(50, 2049, analysis_rate, 1.0, 3, scatter)) {
            for (std::size_t k = 18; k < 1024; ++k) {
                count += (phase[k] < 0.0F) != (phase[k - 1] < 0.0F) ? 1 : 0;
            }
        }
        return count;
    };
    CHECK(turns(3) > 2 * turns(1));
}
