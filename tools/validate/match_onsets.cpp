#include "validate/match_onsets.hpp"

#include <algorithm>
#include <cassert>

namespace retap::validate {

OnsetMatch match_onsets(std::span<const double> truth_s, std::span<const double> found_s, double reach_s) {
    assert(std::ranges::is_sorted(truth_s) && std::ranges::is_sorted(found_s));
    OnsetMatch match;
    std::size_t t = 0;
    std::size_t f = 0;
    while (t < truth_s.size() && f < found_s.size()) {
        if (found_s[f] < truth_s[t] - reach_s) {
            ++f;
        } else if (found_s[f] > truth_s[t] + reach_s) {
            ++t;
        } else {
            match.pairs.emplace_back(t++, f++);
        }
    }
    match.missed = truth_s.size() - match.pairs.size();
    match.extra = found_s.size() - match.pairs.size();
    return match;
}

} // namespace retap::validate
