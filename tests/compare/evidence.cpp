#include "compare/evidence.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace retap::compare;

namespace {

const EvidenceSettings settings;

SummedEvidence sum_of(double weight, double taps = 8.0) {
    const std::array kinds{Evidence{.kind = EvidenceKind::landing, .weight = weight}};
    return summed(kinds, taps, settings);
}

} // namespace

TEST_CASE("kinds of evidence add up, and none says less than the least") {
    const std::array kinds{Evidence{.kind = EvidenceKind::landing, .weight = 0.5},
                           Evidence{.kind = EvidenceKind::first_sound, .weight = 1.25},
                           Evidence{.kind = EvidenceKind::energy_profile, .weight = -7.0}};
    const SummedEvidence sum = summed(kinds, 8.0, settings);
    CHECK(settings.least == 0.0);
    CHECK(sum.value == doctest::Approx(0.5 + 1.25));
    CHECK(sum.high - sum.value == doctest::Approx(settings.interval_sigmas * settings.usual_error));
    CHECK(sum.value - sum.low == doctest::Approx(settings.interval_sigmas * settings.usual_error));
}

TEST_CASE("half as many taps leave an interval wider by the root of two") {
    const double eight = sum_of(1.0).high - 1.0;
    CHECK(sum_of(1.0, 4.0).high - 1.0 == doctest::Approx(std::sqrt(2.0) * eight));
    CHECK(sum_of(1.0, 16.0).high - 1.0 == doctest::Approx(eight / std::sqrt(2.0)));
}

TEST_CASE("alike needs the whole interval inside, different the whole of it outside") {
    const double reach = settings.interval_sigmas * settings.usual_error;
    CHECK(judge(sum_of(settings.limit - reach - 0.01), settings) == Finding::within);
    CHECK(judge(sum_of(settings.limit - reach + 0.01), settings) == Finding::unclear);
    CHECK(judge(sum_of(settings.beyond + reach - 0.01), settings) == Finding::unclear);
    CHECK(judge(sum_of(settings.beyond + reach + 0.01), settings) == Finding::beyond);
    CHECK(settings.beyond > settings.limit);
}

TEST_CASE("the likeness falls all the way, and neither it nor its interval ever ends at 0 or 100") {
    double last = 100.0;
    for (double weight = 0.0; weight <= 9.0; weight += 0.1) {
        const Likeness likeness = likeness_of(sum_of(weight), settings);
        CHECK(likeness.score < last);
        CHECK(likeness.low < likeness.score);
        CHECK(likeness.score < likeness.high);
        CHECK(likeness.low > 0.0);
        CHECK(likeness.high < 100.0);
        last = likeness.score;
    }
    CHECK(likeness_of(sum_of(settings.half_likeness), settings).score == doctest::Approx(50.0));
}
