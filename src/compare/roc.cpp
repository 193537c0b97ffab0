#include "compare/roc.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

namespace retap::compare {

RocArea roc_area(std::span<const double> should_be_low, std::span<const double> should_be_high) {
    assert(!should_be_low.empty() && !should_be_high.empty());
    std::vector<double> low(should_be_low.begin(), should_be_low.end());
    std::vector<double> high(should_be_high.begin(), should_be_high.end());
    std::ranges::sort(low);
    std::ranges::sort(high);
    const auto n_low = static_cast<double>(low.size());
    const auto n_high = static_cast<double>(high.size());

    // One pass over the distinct scores. Two of a kind that tie with one of the other share a third of the orders.
    double pairs = 0.0;    // (low, high) in the right order
    double two_high = 0.0; // both of two high ones above one low one: n^2 Q1
    double two_low = 0.0;  // one high one above both of two low ones: n^2 Q2
    auto at_low = low.begin();
    auto at_high = high.begin();
    while (at_low != low.end() || at_high != high.end()) {
        const double score = at_high == high.end() || (at_low != low.end() && *at_low < *at_high) ? *at_low : *at_high;
        const auto low_end = std::upper_bound(at_low, low.end(), score);
        const auto high_end = std::upper_bound(at_high, high.end(), score);
        const auto tied_low = static_cast<double>(low_end - at_low);
        const auto tied_high = static_cast<double>(high_end - at_high);
        const auto below = static_cast<double>(at_low - low.begin());
        const auto above = static_cast<double>(high.end() - high_end);
        pairs += tied_low * (above + 0.5 * tied_high);
        two_high += tied_low * (above * above + above * tied_high + tied_high * tied_high / 3.0);
        two_low += tied_high * (below * below + below * tied_low + tied_low * tied_low / 3.0);
        at_low = low_end;
        at_high = high_end;
    }
    const double area = pairs / (n_low * n_high);
    const double q1 = two_high / (n_low * n_high * n_high);
    const double q2 = two_low / (n_high * n_low * n_low);
    const double variance =
        (area * (1.0 - area) + (n_high - 1.0) * (q1 - area * area) + (n_low - 1.0) * (q2 - area * area)) /
        (n_low * n_high);
    return {.area = area, .standard_error = std::sqrt(std::max(0.0, variance))};
}

} // namespace retap::compare
