#include "bite/patient.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace retap::bite;

TEST_CASE("pairs run from the right second molar over the incisors to the left one, in ISO 3950") {
    const std::vector<int> expected{17, 16, 15, 14, 13, 12, 11, 21, 22, 23, 24, 25, 26, 27};
    for (std::size_t i = 0; i < pair_count; ++i) {
        CHECK(upper_tooth_iso(i) == expected[i]);
    }
}

TEST_CASE("a seed is a patient: the same every time, and unlike any other") {
    const Patient a = draw_patient(5);
    const Patient b = draw_patient(5);
    const Patient c = draw_patient(6);
    CHECK(a.tapping.speed_m_per_s == b.tapping.speed_m_per_s);
    CHECK(a.modes.front().frequency_hz == b.modes.front().frequency_hz);
    CHECK(a.tapping.speed_m_per_s != c.tapping.speed_m_per_s);
    CHECK(a.modes.front().frequency_hz != c.modes.front().frequency_hz);
}

TEST_CASE("patients stay within the ranges their parts are documented with") {
    std::vector<double> speeds;
    double contacts = 0.0;
    constexpr int patients = 300;
    for (std::uint64_t seed = 1; seed <= patients; ++seed) {
        const Patient p = draw_patient(seed);
        speeds.push_back(p.tapping.speed_m_per_s);
        CHECK((p.tapping.speed_m_per_s >= 0.020 && p.tapping.speed_m_per_s <= 0.200));
        CHECK((p.tapping.rate_hz >= 2.0 && p.tapping.rate_hz <= 3.0));
        CHECK((p.peak_over_noise_db >= 28.0 && p.peak_over_noise_db <= 46.0));
        CHECK((p.bone_speed_m_per_s >= 260.0 && p.bone_speed_m_per_s <= 330.0));
        CHECK((p.muscle.silence_after_s >= 0.0125 && p.muscle.silence_after_s <= 0.0129));
        int left = 0;
        int right = 0;
        for (std::size_t i = 0; i < pair_count; ++i) {
            const ToothPair& pair = p.pairs.at(i);
            CHECK((pair.lower.stiffness_n_per_m > 1.0e4 && pair.lower.stiffness_n_per_m < 1.5e5));
            CHECK((pair.contact_n_per_m15 > 0.2e8 && pair.contact_n_per_m15 < 1.5e9));
            (i < pair_count / 2 ? right : left) += pair.in_contact ? 1 : 0;
        }
        CHECK(left >= 1);
        CHECK(right >= 1);
        contacts += left + right;
        CHECK((p.modes.front().frequency_hz > 90.0 && p.modes.back().frequency_hz < 13000.0));
    }
    // About 7 contacts a side are usual when teeth are pressed together (Korioth 1990, J Prosthet Dent 64:206-210); a
    // light tap has fewer of them (J Oral Rehabil 1983;10:473-480). Teeth, not single contacts, are counted here.
    CHECK(contacts / patients > 9.0);
    CHECK(contacts / patients < 14.0);
    CHECK(median(speeds) == doctest::Approx(0.075).epsilon(0.1));
}
