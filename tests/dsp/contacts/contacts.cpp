#include "dsp/contacts/contacts.hpp"
#include "skipped.hpp"

#include "dsp/base/statistics.hpp"

#include "analysis_rate.hpp"
#include "real_strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::lay_down;
using retap::test::StrikeTake;

namespace {

// Recordings of single strokes of two sticks on each other, at four strengths: Debian package hydrogen-drumkits, kit
// "ForzeeStereo".
std::vector<std::vector<float>> sticks(std::size_t channel) {
    std::vector<std::vector<float>> strikes;
    for (const char* number : {"0", "1", "2", "3"}) {
        strikes.push_back(retap::test::recorded_strike(
            std::string("hydrogen/data/drumkits/ForzeeStereo/Stick-") + number + ".wav", channel));
    }
    return strikes;
}

bool stick_kit_missing() {
    const bool missing = sticks(0).front().empty();
    if (missing) {
        retap::test::skipped("install the package hydrogen-drumkits");
    }
    return missing;
}

double median_spread(const std::vector<ContactTrain>& trains) {
    std::vector<double> spreads;
    spreads.reserve(trains.size());
    for (const ContactTrain& train : trains) {
        spreads.push_back(train.onset_spread_ms);
    }
    return median(spreads);
}

} // namespace

TEST_CASE("recorded stick strikes laid down twice come back with their gap within 0.05 ms") {
    if (stick_kit_missing()) {
        return;
    }
    for (const double gap_ms : {3.1, 4.6}) {
        for (const double ratio : {0.7, 1.0, 1.8, 3.0}) {
            CAPTURE(gap_ms);
            CAPTURE(ratio);
            const StrikeTake take = lay_down(sticks(0), {.gap_ms = gap_ms, .ratio = ratio}, 71);
            CHECK(median_spread(resolve_contacts(take.taps(), analysis_rate, {})) ==
                  doctest::Approx(gap_ms).epsilon(0.05 / gap_ms));
        }
    }
}

TEST_CASE("a single recorded stick strike is one contact") {
    if (stick_kit_missing()) {
        return;
    }
    for (const std::size_t channel : {0U, 1U}) {
        for (const std::vector<float>& strike : sticks(channel)) {
            for (const double over_noise_db : {28.0, 46.0}) {
                const StrikeTake take = lay_down({strike}, {.peak_over_noise_db = over_noise_db}, 72);
                for (const ContactTrain& train : resolve_contacts(take.taps(), analysis_rate, {})) {
                    CHECK(train.contacts.size() == 1);
                    CHECK(train.onset_spread_ms == 0.0);
                    CHECK(train.contacts.front().at_ms == 0.0);
                    CHECK(train.contacts.front().strength == 1.0);
                }
            }
        }
    }
}

TEST_CASE("two equal arrivals 0.05 ms apart are reported as one") {
    if (stick_kit_missing()) {
        return;
    }
    for (const std::vector<float>& strike : sticks(0)) {
        for (const ContactTrain& train :
             resolve_contacts(lay_down({strike}, {.gap_ms = 0.05}, 74).taps(), analysis_rate, {})) {
            CHECK(train.contacts.size() == 1);
            CHECK(train.resolution_ms > 0.05);
        }
    }
}

TEST_CASE("silence, noise, short excerpts and no taps at all give one contact each") {
    CHECK(resolve_contacts({}, analysis_rate, {}).empty());
    const std::vector<float> silence(5760, 0.0F);
    const std::vector<float> noise = retap::test::white_noise(5760, 0.01, 75);
    const std::vector<float> brief(20, 0.1F);
    const std::vector<TapSound> taps{{silence, Position(960.0)}, {noise, Position(960.0)},  {brief, Position(10.0)},
                                     {{}, Position(0.0)},        {noise, Position(5759.5)}, {noise, Position(0.0)}};
    for (const ContactTrain& train : resolve_contacts(taps, analysis_rate, {})) {
        CHECK(train.contacts.size() == 1);
        CHECK(train.onset_spread_ms == 0.0);
    }
}
