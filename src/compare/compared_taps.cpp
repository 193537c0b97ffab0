#include "compare/compared_taps.hpp"

namespace retap::compare {
namespace {

using Takes = std::span<const dsp::TakeAnalysis>;

/// The taps that can take part, thinned out evenly when there are many.
std::vector<const dsp::Tap*> chosen_taps(const dsp::TakeAnalysis& take, std::size_t most) {
    std::vector<const dsp::Tap*> usable;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable && !tap.excerpt.samples.empty()) {
            usable.push_back(&tap);
        }
    }
    if (usable.size() <= most) {
        return usable;
    }
    std::vector<const dsp::Tap*> chosen;
    for (std::size_t i = 0; i < most; ++i) {
        chosen.push_back(usable[i * (usable.size() - 1) / (most - 1)]);
    }
    return chosen;
}

void gather(ComparedTaps& all, Takes takes, std::size_t side, HeardChannel channel, std::size_t most) {
    for (const dsp::TakeAnalysis& take : takes) {
        const std::size_t number = all.take.empty() ? 0 : all.take.back() + 1;
        for (const dsp::Tap* tap : chosen_taps(take, most)) {
            all.taps.push_back(tap);
            all.sounds.push_back(
                {.samples = sound_in(tap->excerpt, channel), .onset = dsp::Position(tap->excerpt.onset_index)});
            all.side.push_back(side);
            all.take.push_back(number);
            ++all.counts.at(side);
        }
    }
}

/// Sides are put in an order that depends on nothing but the taps themselves.
bool goes_first(Takes a, Takes b) {
    const auto key = [](Takes takes) {
        std::vector<double> figures;
        for (const dsp::TakeAnalysis& take : takes) {
            for (const dsp::Tap& tap : take.taps) {
                figures.push_back(tap.duration_ms);
                figures.push_back(tap.rise_ms);
                figures.push_back(tap.onset_s);
            }
        }
        return figures;
    };
    return key(a) <= key(b);
}

} // namespace

ComparedTaps compared_taps(Takes before, Takes after, std::size_t most) {
    ComparedTaps all;
    const HeardChannel channel = heard_channel(before, after);
    if (goes_first(before, after)) {
        gather(all, before, 0, channel, most);
        gather(all, after, 1, channel, most);
    } else {
        gather(all, after, 1, channel, most);
        gather(all, before, 0, channel, most);
    }
    return all;
}

} // namespace retap::compare
