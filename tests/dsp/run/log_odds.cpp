#include "dsp/run/log_odds.hpp"

#include "dsp/run/pattern_log_odds.hpp"

#include "run_members.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <vector>

using namespace retap::dsp;
using retap::test::event_at;
using retap::test::pointers;

namespace {

const std::vector<RunMember> taps{event_at(0.0), event_at(0.4), event_at(0.8), event_at(1.2), event_at(1.6)};

/// Of the last of `events` among the taps; its likeness is left out.
double worth_of_last(const std::vector<RunMember>& events) {
    std::vector<const RunMember*> candidates = pointers(taps);
    const std::vector<const RunMember*> members = candidates;
    std::ranges::transform(events, std::back_inserter(candidates), [](const RunMember& e) { return &e; });
    std::ranges::stable_sort(candidates, {}, &RunMember::at_s);
    const auto last = static_cast<std::size_t>(std::ranges::find(candidates, &events.back()) - candidates.begin());
    const Run run = describe_run(members, {});
    return tap_log_odds(candidates, members, run, {})[last] -
           pattern_log_odds_of_each(candidates, members, run, {})[last];
}

} // namespace

TEST_CASE("as sudden is what is no less prominent than a tenth of the run, or than 16 where that is less") {
    RunMember event = event_at(0.0);
    Run run;
    for (const double usual : {20.0, 100.0, 160.0, 1000.0}) {
        CAPTURE(usual);
        run.log_prominence = std::log(usual);
        const double least = std::min(0.1 * usual, 16.0);
        event.log_prominence = std::log(1.001 * least);
        CHECK(as_sudden(event, run, {}));
        event.log_prominence = std::min(run.log_prominence - std::log(10.0), std::log(16.0)); // no less is enough
        CHECK(as_sudden(event, run, {}));
        event.log_prominence = std::log(0.999 * least);
        CHECK_FALSE(as_sudden(event, run, {}));
    }
}

TEST_CASE("an event is worth the less the further it is from the level of the run, up to a limit") {
    for (const double apart_db : {0.0, 3.0, -3.0, 9.0, 60.0}) {
        RunMember event = event_at(6.0); // no taps within 2 s
        event.level_db += apart_db;
        event.convincing = false;
        const double squared = apart_db * apart_db / 9.0; // people's taps scatter by 3 dB
        CAPTURE(apart_db);
        CHECK(worth_of_last({event}) == doctest::Approx(-squared / (1.0 + squared / 2.0)));
    }
}

TEST_CASE("three are taken off for each factor e that an event is too faint, and six at the most") {
    for (const double too_faint : {-1.0, 0.0, 0.5, 1.9, 3.0}) {
        RunMember event = event_at(6.0);
        event.log_prominence = 4.0 - std::log(10.0) - too_faint;
        event.convincing = false;
        CAPTURE(too_faint);
        CHECK(worth_of_last({event}) == doctest::Approx(-std::clamp(3.0 * too_faint, 0.0, 6.0)));
    }
}

TEST_CASE("a convincing event gains by the taps within 2 s of it, against twice the other sudden sounds there") {
    // Twin: ln (taps + 1) / (2 others + 1), between 0 and 1.5, counted one by one.
    for (const double at_s : {-1.5, 0.2, 1.9, 3.3, 4.0}) {
        for (const std::size_t others : {0U, 1U, 2U, 6U}) {
            std::vector<RunMember> events;
            for (std::size_t i = 0; i < others; ++i) {
                events.push_back(event_at(at_s - 0.2 + 0.02 * static_cast<double>(i), 15.0));
            }
            events.push_back(event_at(at_s - 0.01, 15.0));
            events.back().log_prominence = 1.0; // no more sudden than the background: no company
            events.push_back(event_at(at_s));
            double near = 0.0;
            for (const RunMember& tap : taps) {
                near += std::abs(tap.at_s - at_s) <= 2.0 ? 1.0 : 0.0;
            }
            const double gain = std::log((near + 1.0) / (2.0 * static_cast<double>(others) + 1.0));
            CAPTURE(at_s);
            CAPTURE(others);
            CHECK(worth_of_last(events) == doctest::Approx(std::clamp(gain, 0.0, 1.5)));
            events.back().convincing = false;
            CHECK(worth_of_last(events) == doctest::Approx(0.0));
        }
    }
}
