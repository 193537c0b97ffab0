#include "compare/evidence.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::compare {

SummedEvidence summed(std::span<const Evidence> evidence, double taps, const EvidenceSettings& settings) {
    assert(taps > 0.0);
    double value = 0.0;
    for (const Evidence& kind : evidence) {
        value += std::max(kind.weight, settings.least);
    }
    const double fewness = std::sqrt(static_cast<double>(settings.usual_taps) / taps);
    const double reach = settings.interval_sigmas * settings.usual_error * fewness;
    return {.value = value, .low = value - reach, .high = value + reach};
}

Finding judge(const SummedEvidence& sum, const EvidenceSettings& settings) {
    if (sum.high <= settings.limit) {
        return Finding::within;
    }
    return sum.low > settings.beyond ? Finding::beyond : Finding::unclear;
}

Likeness likeness_of(const SummedEvidence& sum, const EvidenceSettings& settings) {
    const auto score = [&](double value) { return 100.0 / (1.0 + std::exp(value - settings.half_likeness)); };
    return {.score = score(sum.value), .low = score(sum.high), .high = score(sum.low)};
}

} // namespace retap::compare
