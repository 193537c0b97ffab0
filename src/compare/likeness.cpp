#include "compare/likeness.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::compare {

RelativeSize relative_size(double difference, double reach, double tolerance) {
    assert(reach >= 0.0 && tolerance > 0.0);
    const double size = std::abs(difference);
    return {
        .value = size / tolerance, .low = std::max(0.0, size - reach) / tolerance, .high = (size + reach) / tolerance};
}

Finding judge(const RelativeSize& size) {
    if (size.high <= 1.0) {
        return Finding::within;
    }
    return size.low > 1.0 ? Finding::beyond : Finding::unclear;
}

Likeness likeness_of(std::span<const RelativeSize> deciding, double steepness) {
    RelativeSize worst;
    for (const RelativeSize& size : deciding) {
        worst.value = std::max(worst.value, size.value);
        worst.low = std::max(worst.low, size.low);
        worst.high = std::max(worst.high, size.high);
    }
    const auto score = [steepness](double size) { return 100.0 / (1.0 + std::pow(size, steepness)); };
    return {.score = score(worst.value), .low = score(worst.high), .high = score(worst.low)};
}

Verdict verdict_of(std::span<const Finding> deciding) {
    if (std::ranges::find(deciding, Finding::beyond) != deciding.end()) {
        return Verdict::different;
    }
    const bool all_within = std::ranges::all_of(deciding, [](Finding f) { return f == Finding::within; });
    return all_within && !deciding.empty() ? Verdict::alike : Verdict::unclear;
}

} // namespace retap::compare
