#include "chart/sound_says.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;
using retap::compare::Comparison;
using retap::compare::Finding;
using retap::compare::MeasureComparison;
using retap::compare::Verdict;

namespace {

Comparison with_first_sound(Finding finding, double difference_ms) {
    MeasureComparison other;
    other.name = "onset_spread";
    other.finding = Finding::beyond;
    MeasureComparison first;
    first.name = "first_sound";
    first.finding = finding;
    first.difference = difference_ms;
    Comparison comparison;
    comparison.measures = {other, first};
    return comparison;
}

} // namespace

TEST_CASE("a lead that grew says that the first contact comes earlier, and one that cannot be told says nothing") {
    CHECK(first_contact(with_first_sound(Finding::beyond, 0.4)) == FirstContact::earlier);
    CHECK(first_contact(with_first_sound(Finding::beyond, -0.4)) == FirstContact::later);
    CHECK(first_contact(with_first_sound(Finding::within, 0.01)) == FirstContact::as_before);
    CHECK(first_contact(with_first_sound(Finding::unclear, 0.4)) == FirstContact::not_told);
    CHECK(first_contact(Comparison{}) == FirstContact::not_told);
}

TEST_CASE("every word of it reads back") {
    for (const auto first :
         {FirstContact::not_told, FirstContact::as_before, FirstContact::earlier, FirstContact::later}) {
        CHECK(first_contact_from(word(first)) == first);
    }
    CHECK_FALSE(first_contact_from("soon"));
}

TEST_CASE("a likeness that tells nothing is not passed on as a number") {
    Comparison comparison = with_first_sound(Finding::beyond, 0.4);
    comparison.verdict = Verdict::different;
    comparison.likeness = retap::compare::no_likeness;
    CHECK_FALSE(sound_says(comparison).likeness);
    comparison.likeness = {30.0, 20.0, 41.0};
    CHECK(sound_says(comparison).likeness == 30.0);
    CHECK(sound_says(comparison) == Verdict::different);
}
