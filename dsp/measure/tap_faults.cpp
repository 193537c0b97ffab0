#include "dsp/measure/tap_faults.hpp"

namespace retap::dsp {

TapFaults faults_of_tap(Position onset, const SignalFaults& seen, std::span<const SampleRun> gaps, SampleRate rate) {
    const Position until = onset + Length::from_ms(35.0, rate);
    const Position from = onset - Length::from_ms(5.0, rate);
    return {.clipped = any_within(seen.clipped, onset, until),
            .broken = any_within(gaps, from, until) || any_within(seen.dropouts, from, until)};
}

std::vector<Unusable> reasons_of(const TapFaults& faults) {
    std::vector<Unusable> reasons;
    if (faults.clipped) {
        reasons.push_back(Unusable::clipped);
    }
    if (faults.broken) {
        reasons.push_back(Unusable::broken);
    }
    return reasons;
}

} // namespace retap::dsp
