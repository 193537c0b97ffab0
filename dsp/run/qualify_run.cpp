#include "dsp/run/qualify_run.hpp"

#include "dsp/run/log_odds.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <utility>

namespace retap::dsp {

namespace {

void turn_down(FoundEvent& event, NoTap reason) {
    if (event.is_tap || !event.reason) {
        event.is_tap = false;
        event.reason = reason;
    }
}

NoTap why_not(const RunMember& event, const Run& run, const RunLimits& limits) {
    const Oddities odd = oddities(event, run, limits.oddness);
    if (odd.level > std::max(odd.pattern, odd.abruptness) ||
        std::abs(event.level_db - run.level_db) > limits.max_level_apart_db) {
        return NoTap::level_apart;
    }
    return odd.beat > std::max(odd.pattern, odd.abruptness) ? NoTap::off_beat : NoTap::unlike;
}

std::vector<const RunMember*> without(std::span<const RunMember* const> members, std::size_t begin, std::size_t end) {
    std::vector<const RunMember*> rest(members.begin(), members.begin() + static_cast<std::ptrdiff_t>(begin));
    rest.insert(rest.end(), members.begin() + static_cast<std::ptrdiff_t>(end), members.end());
    return rest;
}

// A few that follow after a pause, or come before one, have no beat to speak for them.
void turn_down_stragglers(const std::vector<FoundEvent*>& taps, std::span<const RunMember* const> members,
                          const Run& run, std::size_t others, const RunLimits& limits) {
    const double pause = std::max(limits.longest_pause_s, limits.pause_factor * run.interval_s);
    std::size_t begin = 0;
    for (std::size_t i = 1; i <= taps.size(); ++i) {
        if (i < taps.size() && members[i]->at_s - members[i - 1]->at_s <= pause) {
            continue;
        }
        const std::span<const RunMember* const> stretch = members.subspan(begin, i - begin);
        if (stretch.size() < std::min(limits.min_taps, taps.size()) &&
            !unmistakable(stretch, without(members, begin, i), run, others, limits)) {
            for (std::size_t k = begin; k < i; ++k) {
                turn_down(*taps[k], NoTap::stands_apart);
            }
        }
        begin = i;
    }
}

// Several things that were each like a tap, but neither alike nor on a beat: somebody at work with a tray.
void turn_down_strangers(const std::vector<FoundEvent*>& candidates, const RunLimits& limits) {
    const auto convincing = std::ranges::count_if(candidates, [](const FoundEvent* e) { return e->is_tap; });
    if (static_cast<std::size_t>(convincing) < limits.min_taps) {
        return;
    }
    for (FoundEvent* event : candidates) {
        turn_down(*event, NoTap::strangers);
    }
}

} // namespace

void qualify_run(std::vector<FoundEvent>& events, SampleRate rate, const RunLimits& limits) {
    std::vector<FoundEvent*> candidates;
    std::vector<RunMember> looks;
    for (FoundEvent& event : events) {
        if (event.could_be_tap) {
            candidates.push_back(&event);
            looks.push_back(run_member(event.shape, event.onset.seconds(rate), event.is_tap));
        }
    }
    std::vector<const RunMember*> all;
    std::ranges::transform(looks, std::back_inserter(all), [](const RunMember& look) { return &look; });
    const std::vector<const RunMember*> members = find_run(all, limits);
    if (members.empty()) {
        turn_down_strangers(candidates, limits);
        return;
    }
    const Run run = describe_run(members, limits.oddness);
    std::vector<FoundEvent*> taps;
    std::size_t others = 0;
    auto member = members.begin(); // both by time
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (member == members.end() || *member != all[i]) {
            others += as_sudden(looks[i], run, limits.chain) ? 1U : 0U;
            turn_down(*candidates[i], why_not(looks[i], run, limits));
            continue;
        }
        ++member;
        candidates[i]->is_tap = true;
        candidates[i]->reason.reset();
        taps.push_back(candidates[i]);
    }
    turn_down_stragglers(taps, members, run, others, limits);
}

} // namespace retap::dsp
