#include "bite/chance_points.hpp"

#include "bite/mechanics.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

using namespace retap::bite;

TEST_CASE("a patient without further contacts and chance keeps the tap as it was planned") {
    const Patient patient = draw_patient(4);
    Approach approach{.speed_m_per_s = 0.1};
    Random random(1, "points");
    draw_points(patient, random, approach);
    CHECK(approach.more.empty());
    CHECK(std::ranges::all_of(approach.extra_gap_m, [](double gap) { return gap == 0.0; }));
    CHECK(random.bits() == Random(1, "points").bits()); // nothing was drawn
}

TEST_CASE("a pair's own point strays without taking its other points along") {
    Patient patient = draw_patient(4);
    patient.more_contacts = {{.pair = 5, .later_m = 3e-6}};
    patient.tapping.point_missing = 1.0; // both stray by 8 to 40 um
    Approach approach{.speed_m_per_s = 0.1};
    Random random(2, "points");
    draw_points(patient, random, approach);
    REQUIRE(approach.more.size() == 1);
    const double own_m = approach.extra_gap_m.at(5);
    const double other_m = own_m + approach.more.front().later_m - 3e-6;
    CHECK(own_m >= 8e-6);
    CHECK(own_m <= 40e-6);
    CHECK(other_m >= 8e-6);
    CHECK(other_m <= 40e-6);
    CHECK(own_m != other_m);
}

TEST_CASE("light contacts come early, as often as asked for, and press with little") {
    Patient patient = draw_patient(4);
    patient.tapping.brushes = 1.5;
    std::size_t count = 0;
    for (std::uint64_t tap = 0; tap < 400; ++tap) {
        Approach approach{.speed_m_per_s = 0.1};
        Random random(tap, "points");
        draw_points(patient, random, approach);
        count += approach.more.size();
        for (const MoreContact& brush : approach.more) {
            const double early_m = -(patient.pairs.at(brush.pair).gap_m + brush.later_m);
            CHECK(early_m >= 2.99e-6);
            CHECK(early_m <= 40.01e-6);
            CHECK(brush.share <= 0.05);
        }
    }
    CHECK(static_cast<double>(count) / 400.0 == doctest::Approx(1.5).epsilon(0.13)); // Poisson: 0.061, two of them
}

TEST_CASE("several points of a tooth meet one after the other, and share its force") {
    Patient patient = draw_patient(4, Mechanics::light);
    for (ToothPair& pair : patient.pairs) {
        pair.gap_m = 1e-3;
    }
    patient.pairs.at(5).gap_m = 0.0;
    const Approach one{.speed_m_per_s = 0.05};
    const Approach two{.speed_m_per_s = 0.05, .more = {{.pair = 5, .later_m = 2e-6}, {.pair = 5, .later_m = 1e-3}}};
    const Closing single = integrate_closing(patient, {}, one, {});
    const Closing several = integrate_closing(patient, {}, two, {});
    std::set<std::size_t> points;
    for (const ContactEvent& c : several.contacts) {
        if (c.pair == 5) {
            points.insert(c.point);
        }
    }
    CHECK(points == std::set<std::size_t>{0, 1}); // the third is too far away
    CHECK(several.contacts[0].point == 0);
    CHECK(several.contacts[1].point == 1);
    // The crown closes at 50 mm/s scaled from the first molar to this pair; it has hardly slowed down after 2 um.
    const double speed = 0.05 * patient.pairs.at(5).y_m / patient.pairs.at(1).y_m;
    CHECK(several.contacts[1].at_s - several.contacts[0].at_s == doctest::Approx(2e-6 / speed).epsilon(0.1));
    CHECK(several.contacts[0].peak_n < single.contacts[0].peak_n);
}

TEST_CASE("a high spot raises the pair's own point alone, a lowered tooth takes all of them down") {
    const Patient patient = draw_patient(4);
    const Approach approach{.speed_m_per_s = 0.05, .more = {{.pair = 5, .later_m = 0.0}}};
    const auto first_of = [&](double height_um, std::size_t point) {
        const BiteChange change{.heights = {{.pair = 5, .height_um = height_um}}, .slide = {}};
        const Closing closing = integrate_closing(patient, change, approach, {});
        const auto found = std::ranges::find_if(closing.contacts,
                                                [&](const ContactEvent& c) { return c.pair == 5 && c.point == point; });
        return found == closing.contacts.end() ? -1.0 : found->at_s;
    };
    CHECK(first_of(0.0, 0) == first_of(0.0, 1));
    CHECK(first_of(60.0, 0) >= 0.0);
    CHECK(first_of(60.0, 1) == -1.0); // the raised point holds the crowns apart
    CHECK(first_of(-20.0, 0) == first_of(-20.0, 1));
}
