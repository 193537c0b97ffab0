#include "dsp/measure/tap_group.hpp"

#include "dsp/base/tap_sound.hpp"

#include <utility>
#include <vector>

namespace retap::dsp {
namespace {

std::vector<CutTap*> usable_of(std::span<CutTap> taps) {
    std::vector<CutTap*> usable;
    for (CutTap& cut : taps) {
        if (cut.tap.usable) {
            usable.push_back(&cut);
        }
    }
    return usable;
}

void set_onset(CutTap& cut, Position onset, SampleRate rate) {
    cut.tap.excerpt.onset_index = onset.samples();
    cut.tap.onset_s = Position(static_cast<double>(cut.begin) + onset.samples()).seconds(rate);
}

std::vector<TapSound> sounds_of(const std::vector<CutTap*>& taps) {
    std::vector<TapSound> sounds;
    sounds.reserve(taps.size());
    for (const CutTap* cut : taps) {
        sounds.push_back(cut->tap.excerpt.mono());
    }
    return sounds;
}

void time_together(std::span<CutTap> taps, SampleRate rate, const GroupSettings& settings) {
    const std::vector<CutTap*> usable = usable_of(taps);
    const auto take_over = [&](const std::vector<std::optional<Position>>& onsets) {
        for (std::size_t i = 0; i < usable.size(); ++i) {
            if (onsets[i]) {
                set_onset(*usable[i], *onsets[i], rate);
            }
        }
    };
    take_over(stray_onsets(sounds_of(usable), rate, settings.stray_onsets));
    take_over(stacked_onsets(sounds_of(usable), rate, settings.stacked_onsets));
}

void tell_contacts_apart(std::span<CutTap> taps, SampleRate rate, const ContactSettings& settings) {
    const std::vector<CutTap*> usable = usable_of(taps);
    std::vector<ContactTrain> trains = resolve_contacts(sounds_of(usable), rate, settings);
    for (std::size_t i = 0; i < usable.size(); ++i) {
        usable[i]->tap.contacts = std::move(trains[i].contacts);
        usable[i]->tap.onset_spread_ms = trains[i].onset_spread_ms;
        usable[i]->tap.resolution_ms = trains[i].resolution_ms;
    }
}

} // namespace

void measure_together(std::span<CutTap> taps, std::optional<Position> next, Level noise, TapMeters& meters,
                      SampleRate rate, const GroupSettings& settings) {
    time_together(taps, rate, settings);
    for (std::size_t i = 0; i < taps.size(); ++i) {
        const std::optional<Position> successor = i + 1 < taps.size() ? std::optional(taps[i + 1].found) : next;
        std::optional<double> next_index;
        if (successor) {
            next_index = successor->samples() - static_cast<double>(taps[i].begin);
        }
        measure_tap(taps[i].tap, noise, next_index, meters, rate);
    }
    tell_contacts_apart(taps, rate, settings.contacts);
}

} // namespace retap::dsp
