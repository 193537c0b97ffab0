#include "report/tap_picture.hpp"

#include "contains.hpp"
#include "invented_takes.hpp"
#include "markup_nesting.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::report;
using retap::test::contains;

namespace {

/// A tap that is silent but for two clicks: a fainter one, then the main impact.
dsp::Tap two_clicks(double apart_ms, double fainter_db, double onset_s) {
    dsp::Tap tap;
    tap.onset_s = onset_s;
    std::vector<float> sound(4800, 0.0F);
    sound[1000] = static_cast<float>(std::pow(10.0, -fainter_db / 20.0));
    sound[1000 + static_cast<std::size_t>(std::lround(apart_ms * 48.0))] = 1.0F;
    tap.excerpt.samples = std::move(sound);
    tap.excerpt.onset_index = 1000.0;
    return tap;
}

dsp::TakeAnalysis take_of(double apart_ms, double fainter_db) {
    dsp::TakeAnalysis take;
    for (int i = 0; i < 5; ++i) {
        take.taps.push_back(two_clicks(apart_ms, fainter_db, 1.0 + 0.5 * i));
    }
    return take;
}

double level_at(const PictureSide& side, double ms) {
    return side.level_db.at(static_cast<std::size_t>(std::lround((ms - picture_whole.from_ms) / picture_step_ms)));
}

} // namespace

TEST_CASE("The main impact stands at 0, the first sound before it at its level, and nothing between") {
    const PictureSide side = picture_side(take_of(2.0, 20.0));
    CHECK(std::abs(level_at(side, 0.0)) < 0.6); // a point may fall beside the click: windows of 7 or 8 samples
    CHECK(std::abs(level_at(side, -2.0) + 20.0) < 1.0);
    CHECK(level_at(side, -1.0) < -35.0); // the filters ring a little
    CHECK(level_at(side, -4.0) < picture_floor_db);
    // The first of the equal taps stands for all: onset at 1 s, its main impact 2 ms later.
    CHECK(side.example_s == doctest::Approx(1.002).epsilon(1e-4));
}

TEST_CASE("What is asked for stays inside what can be drawn") {
    CHECK(inside({-100.0, 100.0}).from_ms == picture_whole.from_ms);
    CHECK(inside({-100.0, 100.0}).to_ms == picture_whole.to_ms);
    const PictureRange narrow = inside({3.0, 3.01});
    CHECK(narrow.to_ms - narrow.from_ms == doctest::Approx(0.5));
    CHECK(inside({11.9, 20.0}).to_ms <= picture_whole.to_ms + 1e-9);
}

TEST_CASE("Lead and second contact are told of each side, as they were compared and told apart") {
    compare::Comparison comparison;
    comparison.before = take_of(0.5, 20.0);
    comparison.after = take_of(2.0, 20.0);
    comparison.measures.push_back({.name = "first_sound",
                                   .unit = "ms",
                                   .before = {.middle = 0.5, .scatter = 0.1, .n = 5},
                                   .after = {.middle = 2.0, .scatter = 0.1, .n = 5},
                                   .difference = 1.5,
                                   .low = 1.4,
                                   .high = 1.6,
                                   .tolerance = 0.2,
                                   .decides = true,
                                   .finding = compare::Finding::beyond,
                                   .plain = {}});
    for (dsp::Tap& tap : comparison.after.taps) {
        tap.contacts = {{0.0, 1.0}, {3.1, 0.5}};
    }
    const TapPicture picture = picture_of(comparison);
    CHECK(picture.after.lead_ms == 2.0);
    CHECK(picture.after.second_ms == 3.1);
    CHECK_FALSE(picture.before.second_ms.has_value());
    const std::string drawing = draw(picture);
    CHECK(contains(drawing, "0.50 ms"));
    CHECK(contains(drawing, "2.00 ms"));
    CHECK(contains(drawing, "class=\"mark after\""));
    CHECK_FALSE(contains(drawing, "class=\"mark before\""));
    CHECK(test::nesting_fault(drawing).empty());
    // Zoomed in on what follows the impact, no bracket is drawn, since neither of its ends is there.
    CHECK_FALSE(contains(draw(picture, {1.0, 3.0}), "class=\"bracket\""));

    // One finding, one sketch.
    const std::string sketches = finding_sketches(comparison);
    CHECK(contains(sketches, "A contact comes first"));
    comparison.measures.front().difference = -1.5;
    CHECK(contains(finding_sketches(comparison), "does so no longer"));
    comparison.measures.front().finding = compare::Finding::within;
    CHECK(finding_sketches(comparison).empty());
}

TEST_CASE("Without a tap there is no picture, and with one side there is one that says so") {
    compare::Comparison comparison;
    CHECK(draw(picture_of(comparison)).empty());
    comparison.before = test::invented_take();
    CHECK(contains(draw(picture_of(comparison)), "After: no tap to draw."));
}
