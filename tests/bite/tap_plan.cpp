#include "bite/tap_plan.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace retap::bite;

TEST_CASE("people tap two to three times a second") {
    // 3 a second in Suzuki 1990, Aichi Gakuin Dent J 28 (PMID 2135154); 2 and 3 in others. Nothing nearer than 0.15 s
    // is a second tap.
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const auto taps = plan_taps(draw_patient(seed), 1, 20, 0.3);
        REQUIRE(taps.size() == 20);
        CHECK(taps.front().at_s == 0.3);
        const double mean_s = (taps.back().at_s - taps.front().at_s) / 19.0;
        CHECK(mean_s > 0.31);
        CHECK(mean_s < 0.53);
        for (std::size_t n = 1; n < taps.size(); ++n) {
            CHECK(taps[n].at_s - taps[n - 1].at_s > 0.15);
        }
    }
}

TEST_CASE("people settle: the first tap of a take scatters more than the sixth") {
    // Force re-adapts within 2 to 3 taps (Tanaka et al. 2006, Int Chin J Dent 6:21-28).
    std::vector<double> first;
    std::vector<double> sixth;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const Patient patient = draw_patient(seed);
        for (std::uint64_t take = 1; take <= 10; ++take) {
            const auto taps = plan_taps(patient, take, 6, 0.0);
            first.push_back(std::log(taps[0].approach.speed_m_per_s / patient.tapping.speed_m_per_s));
            sixth.push_back(std::log(taps[5].approach.speed_m_per_s / patient.tapping.speed_m_per_s));
        }
    }
    CHECK(rms(first) > 1.2 * rms(sixth));
    CHECK(rms(sixth) > 0.05);
}

TEST_CASE("every take of a person differs, and the same take is the same again") {
    const Patient patient = draw_patient(9);
    CHECK(plan_taps(patient, 1, 3, 0.0)[2].at_s == plan_taps(patient, 1, 3, 0.0)[2].at_s);
    CHECK(plan_taps(patient, 1, 3, 0.0)[2].at_s != plan_taps(patient, 2, 3, 0.0)[2].at_s);
    CHECK(plan_taps(patient, 1, 0, 0.0).empty());
}
