#include "bite/pickup.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace retap::bite;

TEST_CASE("no way through the bone differs by more than the head is wide: 0.50 ms from side to side") {
    // 130 mm at the slowest published speed of bone-conducted sound, 260 m/s (Tonndorf and Jahn 1981, JASA 70:1294).
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        const Patient patient = draw_patient(seed);
        const Pickup left = place_pickup(patient, PickupPlace::left);
        const Pickup right = place_pickup(patient, PickupPlace::right);
        for (std::size_t i = 0; i < pair_count; ++i) {
            CHECK(std::abs(left.delay_s.at(i) - right.delay_s.at(i)) < 0.50e-3);
        }
        CHECK(left.delay_s.at(12) < right.delay_s.at(12));     // the left first molar is nearer to the left pick-up,
        CHECK(left.path_gain.at(12) > right.path_gain.at(12)); // and louder there
    }
}

TEST_CASE("the first seat changes nothing, another seat is always the same and unlike the first") {
    const Patient patient = draw_patient(2);
    const Pickup first = place_pickup(patient, PickupPlace::forehead);
    const auto seat = [&](std::uint64_t n) { return reseat(first, patient, PickupPlace::forehead, {}, n); };
    CHECK(seat(0).mode_gain == first.mode_gain);
    CHECK(seat(1).mode_gain == seat(1).mode_gain);
    CHECK(seat(1).mode_gain != seat(2).mode_gain);
    CHECK(seat(1).delay_s != first.delay_s);
}

TEST_CASE("re-seating scatters each mode, the tilt and the level by what was asked for") {
    // 400 seats of one patient, a line fitted to the decibels over octaves in each: standard errors 3.5 % of an SD.
    const Patient patient = draw_patient(4);
    const Pickup first = place_pickup(patient, PickupPlace::forehead);
    const SeatScatter scatter{.mode_db = 1.2, .tilt_db_per_octave = 1.0, .level_db = 1.5};
    std::vector<double> tilts;
    std::vector<double> rests;
    for (std::uint64_t n = 1; n <= 400; ++n) {
        const Pickup moved = reseat(first, patient, PickupPlace::forehead, scatter, n);
        double sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
        const auto count = static_cast<double>(patient.modes.size());
        std::vector<double> x;
        std::vector<double> y;
        for (std::size_t m = 0; m < patient.modes.size(); ++m) {
            x.push_back(std::log2(patient.modes[m].frequency_hz / 1000.0));
            y.push_back(20.0 * std::log10(std::abs(moved.mode_gain[m] / first.mode_gain[m])));
            sx += x[m];
            sy += y[m];
            sxx += x[m] * x[m];
            sxy += x[m] * y[m];
        }
        const double tilt = (count * sxy - sx * sy) / (count * sxx - sx * sx);
        const double level = (sy - tilt * sx) / count;
        tilts.push_back(tilt);
        for (std::size_t m = 0; m < x.size(); ++m) {
            rests.push_back(y[m] - level - tilt * x[m]);
        }
    }
    CHECK(rms(tilts) == doctest::Approx(1.0).epsilon(0.12));
    CHECK(rms(rests) == doctest::Approx(1.2).epsilon(0.06)); // two degrees of freedom of 40 are lost to the line
}
