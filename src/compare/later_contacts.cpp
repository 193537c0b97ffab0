#include "compare/later_contacts.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdlib>
#include <vector>

namespace retap::compare {
namespace {

/// Twice the middle rank of each of the values, from 2: whole numbers, ties included.
std::vector<int> doubled_ranks(const std::vector<double>& values) {
    std::vector<double> ordered = values;
    std::ranges::sort(ordered);
    std::vector<int> ranks;
    ranks.reserve(values.size());
    for (const double value : values) {
        const auto [first, last] = std::ranges::equal_range(ordered, value);
        ranks.push_back(static_cast<int>((first - ordered.begin()) + (last - ordered.begin())) + 1);
    }
    return ranks;
}

} // namespace

double rank_sum_p(std::span<const double> first, std::span<const double> second) {
    if (first.empty() || second.empty()) {
        return 1.0;
    }
    std::vector<double> values(first.begin(), first.end());
    values.insert(values.end(), second.begin(), second.end());
    const std::vector<int> ranks = doubled_ranks(values);
    const auto chosen = first.size();
    const auto total = static_cast<int>(values.size() * (values.size() + 1));
    // ways[k][s]: the share of subsets of k values whose doubled ranks sum to s, up to a factor common to one k
    std::vector<std::vector<double>> ways(chosen + 1, std::vector<double>(static_cast<std::size_t>(total) + 1, 0.0));
    ways[0][0] = 1.0;
    for (const int rank : ranks) {
        const auto by = static_cast<std::size_t>(rank);
        for (std::size_t k = chosen; k > 0; --k) {
            for (std::size_t s = static_cast<std::size_t>(total); s >= by; --s) {
                ways[k][s] += ways[k - 1][s - by];
            }
        }
    }
    int seen = 0;
    for (std::size_t i = 0; i < chosen; ++i) {
        seen += ranks[i];
    }
    const int expected = static_cast<int>(chosen * (values.size() + 1));
    double as_far = 0.0;
    double all = 0.0;
    for (int s = 0; s <= total; ++s) {
        const double share = ways[chosen][static_cast<std::size_t>(s)];
        all += share;
        as_far += std::abs(s - expected) >= std::abs(seen - expected) ? share : 0.0;
    }
    return as_far / all;
}

double strong_spread_ms(std::span<const dsp::Contact> contacts, const LaterContactsSettings& settings) {
    const auto strong = [&](const dsp::Contact& contact) { return contact.strength >= settings.min_strength; };
    const auto first = std::ranges::find_if(contacts, strong);
    const auto last = std::find_if(contacts.rbegin(), contacts.rend(), strong);
    return first == contacts.end() ? 0.0 : last->at_ms - first->at_ms;
}

LaterContacts later_contacts(std::span<const double> before, std::span<const double> after,
                             const LaterContactsSettings& settings) {
    LaterContacts told;
    if (before.empty() || after.empty()) {
        return told;
    }
    told.before_ms = dsp::median(before);
    told.after_ms = dsp::median(after);
    told.p = rank_sum_p(before, after);
    if (std::abs(told.after_ms - told.before_ms) >= settings.least_ms && told.p < settings.level) {
        told.weight = std::log(settings.level / told.p);
    }
    return told;
}

LaterContacts later_ripple(const dsp::SpectralRipples& ripples, std::span<const std::size_t> side,
                           const LaterContactsSettings& settings) {
    assert(side.size() == ripples.of_tap.size());
    LaterContacts told;
    for (std::size_t d = 0; d < ripples.delays_ms.size(); ++d) {
        std::array<std::vector<double>, 2> heights;
        for (std::size_t tap = 0; tap < side.size(); ++tap) {
            heights.at(side[tap]).push_back(ripples.of_tap[tap][d]);
        }
        if (heights[0].empty() || heights[1].empty()) {
            return told;
        }
        const double rise = dsp::median(heights[1]) - dsp::median(heights[0]);
        const double p = std::abs(rise) < settings.min_ripple
                             ? 1.0
                             : std::min(1.0, settings.ripples_tried * rank_sum_p(heights[0], heights[1]));
        if (p < told.p) {
            told.p = p;
            told.before_ms = rise < 0.0 ? ripples.delays_ms[d] : 0.0;
            told.after_ms = rise < 0.0 ? 0.0 : ripples.delays_ms[d];
            told.weight = std::max(0.0, std::log(settings.level / p));
        }
    }
    return told;
}

} // namespace retap::compare
