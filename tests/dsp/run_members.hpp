// Made events for the tests of what tells a run of taps.
#pragma once

#include "dsp/run/features.hpp"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <vector>

namespace retap::test {

/// Four octaves in the attack; `tone_db` up and down by turns puts it at that pattern distance from one with 0.
inline dsp::RunMember event_at(double at_s, double tone_db = 0.0, double level_db = -20.0) {
    dsp::RunMember member{
        .at_s = at_s, .level_db = level_db, .abruptness_db = 40.0, .log_prominence = 4.0, .pattern = {}};
    member.pattern.level_db.fill(level_db - 25.0);
    for (std::size_t octave = 0; octave < 4; ++octave) {
        member.pattern.level_db.at(octave) = level_db + (octave % 2 == 0 ? tone_db : -tone_db);
        member.pattern.heard.at(octave) = true;
    }
    return member;
}

inline std::vector<const dsp::RunMember*> pointers(const std::vector<dsp::RunMember>& events) {
    std::vector<const dsp::RunMember*> list;
    std::ranges::transform(events, std::back_inserter(list), [](const dsp::RunMember& e) { return &e; });
    return list;
}

} // namespace retap::test
