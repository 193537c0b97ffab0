#include "dsp/take_analyser.hpp"

#include "dsp/bandwidth.hpp"
#include "dsp/contacts.hpp"
#include "dsp/fitness.hpp"
#include "dsp/impact.hpp"
#include "dsp/pooled_onset.hpp"
#include "dsp/recent_sound.hpp"
#include "dsp/recording_watch.hpp"
#include "dsp/robust.hpp"
#include "dsp/tap_finder.hpp"
#include "dsp/tap_measures.hpp"
#include "dsp/tap_run.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <deque>
#include <iterator>
#include <utility>
#include <vector>

namespace retap::dsp {
namespace {

const SampleRate rate(analysis_rate_hz);

/// A tap that was found but whose neighbours or whose end are not all known yet.
struct OpenTap {
    std::size_t event = 0; ///< its number among the events
    Tap tap;
    TapRecording sound;
    std::int64_t begin = 0; ///< where the sound starts in the recording
};

/// Taps of a take share most of their sound, so together they say better than each alone when they began.
void time_together(std::span<OpenTap> taps) {
    std::vector<OpenTap*> usable;
    std::vector<TapSound> sounds;
    for (OpenTap& open : taps) {
        if (open.tap.usable) {
            usable.push_back(&open);
            sounds.push_back({.samples = open.sound.mono, .onset = Position(open.sound.onset_index)});
        }
    }
    const std::vector<std::optional<Position>> onsets = pooled_onsets(sounds, rate);
    for (std::size_t i = 0; i < usable.size(); ++i) {
        if (onsets[i]) {
            usable[i]->sound.onset_index = onsets[i]->samples();
            usable[i]->tap.onset_s =
                Position(static_cast<double>(usable[i]->begin) + onsets[i]->samples()).seconds(rate);
        }
    }
}

/// What the background was when the taps were heard; at the end of a recording it may be another, or exact silence.
std::optional<Level> noise_around(std::span<const FoundEvent* const> taps) {
    std::vector<double> noise_db;
    std::ranges::transform(taps, std::back_inserter(noise_db),
                           [](const FoundEvent* tap) { return tap->shape.loudness.db() - tap->shape.over_noise.db(); });
    return noise_db.empty() ? std::nullopt : std::optional(Level(median(noise_db)));
}

/// Told apart over all usable taps at once, for they share one kernel: the sound of one mouth under one pick-up.
void tell_contacts_apart(std::span<OpenTap> taps) {
    std::vector<Tap*> usable;
    std::vector<TapSound> sounds;
    for (OpenTap& open : taps) {
        if (open.tap.usable) {
            usable.push_back(&open.tap);
            sounds.push_back({.samples = open.tap.excerpt.samples, .onset = Position(open.tap.excerpt.onset_index)});
        }
    }
    std::vector<ContactTrain> trains = resolve_contacts(sounds, rate);
    for (std::size_t i = 0; i < usable.size(); ++i) {
        usable[i]->contacts = std::move(trains[i].contacts);
        usable[i]->onset_spread_ms = trains[i].onset_spread_ms;
        usable[i]->resolution_ms = trains[i].resolution_ms;
    }
}

} // namespace

struct TakeAnalyser::State {
    State(int channel_count, double recorded_hz, const TakeSettings& take_settings)
        : settings(take_settings), recorded_rate_hz(recorded_hz), channels(static_cast<std::size_t>(channel_count)),
          finder(rate),
          before(static_cast<std::int64_t>(std::lround(Length::from_ms(settings.before_ms, rate).samples()))),
          after(static_cast<std::int64_t>(std::lround(Length::from_ms(settings.after_ms, rate).samples()))),
          meters(rate), watch(channels, SampleRate(recorded_rate_hz), rate) {
        const double kept_s = TapFinder::settling_time_s() + 0.5 + 1e-3 * (settings.before_ms + settings.after_ms);
        sides.assign(channels, RecentSound(static_cast<std::size_t>(kept_s * analysis_rate_hz)));
    }

    void feed(std::span<const float> recorded, std::span<const float> interleaved);
    void listen(std::span<const float> part);
    void note(std::vector<FoundEvent> found);
    void cut_out(bool ended);
    void note_progress(const OpenTap& open);
    void drop_unlikely();
    void measure_group(bool last);
    [[nodiscard]] bool spoiled(const OpenTap& open, const SignalFaults& seen, Tap& tap) const;
    [[nodiscard]] std::int64_t end() const { return sides.front().end(); }

    TakeSettings settings;
    double recorded_rate_hz;
    std::size_t channels;
    TapFinder finder;
    std::int64_t before;
    std::int64_t after;
    TapMeters meters;
    std::vector<RecentSound> sides;
    RecordingWatch watch;
    std::vector<SampleRun> gaps; ///< places that nothing is timed across
    std::size_t lost = 0;        ///< how many of them lost sound
    std::vector<FoundEvent> events;
    std::deque<std::size_t> uncut; ///< events that may be taps, whose sound is not all there yet
    std::vector<OpenTap> group;    ///< cut out, to be measured together
    std::vector<std::pair<std::size_t, Tap>> measured;
    std::vector<float> mono;
    std::vector<float> one_side;
    Progress progress;
};

void TakeAnalyser::State::feed(std::span<const float> recorded, std::span<const float> interleaved) {
    assert(recorded.size() % channels == 0 && interleaved.size() % channels == 0);
    // Short steps: what is kept of the recording must reach back to a tap when it is settled, however long the block.
    constexpr std::size_t step = 4800;
    const std::size_t frames = interleaved.size() / channels;
    const std::size_t steps = std::max<std::size_t>(1, (frames + step - 1) / step);
    const std::size_t recorded_step = (recorded.size() / channels + steps - 1) / steps;
    for (std::size_t n = 0; n < steps; ++n) {
        const auto part = [&](std::span<const float> all, std::size_t length) {
            const std::size_t from = std::min(all.size(), n * length * channels);
            return all.subspan(from, std::min(all.size() - from, length * channels));
        };
        watch.feed(part(recorded, recorded_step));
        listen(part(interleaved, step));
    }
}

void TakeAnalyser::State::listen(std::span<const float> part) {
    const std::size_t n = part.size() / channels;
    mono.assign(n, 0.0F);
    for (std::size_t c = 0; c < channels; ++c) {
        one_side.resize(n);
        for (std::size_t i = 0; i < n; ++i) {
            one_side[i] = part[i * channels + c];
            mono[i] += one_side[i] / static_cast<float>(channels);
        }
        sides[c].push(one_side);
    }
    note(finder.feed(mono));
    cut_out(false);
}

void TakeAnalyser::State::note(std::vector<FoundEvent> found) {
    for (FoundEvent& event : found) {
        progress.last_event_s = event.onset.seconds(rate);
        if (event.could_be_tap) {
            uncut.push_back(events.size());
        }
        events.push_back(std::move(event));
    }
}

bool TakeAnalyser::State::spoiled(const OpenTap& open, const SignalFaults& seen, Tap& tap) const {
    const Position onset(static_cast<double>(open.begin) + open.sound.onset_index);
    const Position until = onset + Length::from_ms(35.0, rate); // the impact itself
    const Position from = onset - Length::from_ms(5.0, rate);
    const bool clipped = any_within(seen.clipped, onset, until);
    const bool broken = any_within(gaps, from, until) || any_within(seen.dropouts, from, until);
    if (clipped) {
        tap.reasons.emplace_back("clipped: its loudest part was cut off");
    }
    if (broken) {
        tap.reasons.emplace_back("samples are missing in it, so it cannot be timed");
    }
    return clipped || broken;
}

void TakeAnalyser::State::note_progress(const OpenTap& open) {
    ++progress.taps;
    progress.usable += open.tap.usable ? 1U : 0U;
    progress.last_tap_s = open.tap.onset_s;
    double peak = 0.0;
    for (const float x : open.sound.mono) {
        peak = std::max(peak, std::abs(static_cast<double>(x)));
    }
    progress.loudest_tap_dbfs = Level::from_amplitude(peak).db();
}

/// Cuts out the events that may be taps as soon as their sound has all been heard.
void TakeAnalyser::State::cut_out(bool ended) {
    while (!uncut.empty()) {
        const std::size_t number = uncut.front();
        const double onset = events[number].onset.samples();
        const auto at = static_cast<std::int64_t>(std::floor(onset));
        if (!ended && at + after > end()) {
            return;
        }
        uncut.pop_front();
        OpenTap open;
        open.event = number;
        open.begin = at - before;
        open.sound.onset_index = onset - static_cast<double>(open.begin);
        for (std::size_t c = 0; c < channels; ++c) {
            open.sound.sides[c] = sides[c].cut(open.begin, at + after);
        }
        if (channels == 1) {
            open.sound.mono = std::move(open.sound.sides[0]);
            open.sound.sides[0].clear();
        } else {
            open.sound.mono = open.sound.sides[0];
            for (std::size_t i = 0; i < open.sound.mono.size(); ++i) {
                open.sound.mono[i] = 0.5F * (open.sound.mono[i] + open.sound.sides[1][i]);
            }
        }
        open.tap.onset_s = events[number].onset.seconds(rate);
        open.tap.usable = !spoiled(open, watch.result(), open.tap);
        if (events[number].is_tap) {
            note_progress(open);
        }
        group.push_back(std::move(open));
        if (!ended && group.size() > settings.group) {
            drop_unlikely();
        }
        if (!ended && group.size() > settings.group) {
            measure_group(false); // the newest one waits for its successor
        }
    }
}

/// In a long recording the run so far decides which events are worth being measured: noise must not use up the sound
/// that is kept. Looks at the events up to the newest of the group, whatever else has been heard by now.
void TakeAnalyser::State::drop_unlikely() {
    constexpr std::size_t context = 150; // events before the group
    constexpr double too_new_s = 3.0;    // they may found a run that is only beginning
    const std::size_t from = group.front().event - std::min(context, group.front().event);
    const std::size_t newest = group.back().event;
    std::vector<FoundEvent> judged(events.begin() + static_cast<std::ptrdiff_t>(from),
                                   events.begin() + static_cast<std::ptrdiff_t>(newest) + 1);
    qualify_run(judged, rate);
    std::erase_if(group, [&](const OpenTap& open) {
        FoundEvent& verdict = judged[open.event - from];
        const double age_s = (events[newest].onset - events[open.event].onset).seconds(rate);
        if (verdict.is_tap || open.event == newest || (events[open.event].is_tap && age_s < too_new_s)) {
            return false;
        }
        verdict.could_be_tap = false;
        events[open.event] = std::move(verdict);
        return true;
    });
}

void TakeAnalyser::State::measure_group(bool last) {
    const std::size_t count = last ? group.size() : group.size() - 1;
    std::vector<const FoundEvent*> taps;
    std::ranges::transform(std::span(group).first(count), std::back_inserter(taps),
                           [&](const OpenTap& open) { return &events[open.event]; });
    const Level noise = noise_around(taps).value_or(finder.levels().noise);
    time_together(std::span(group).first(count));
    for (std::size_t i = 0; i < count; ++i) {
        OpenTap& open = group[i];
        std::optional<double> next;
        if (i + 1 < group.size()) {
            next = events[group[i + 1].event].onset.samples() - static_cast<double>(open.begin);
        }
        measure_tap(open.tap, open.sound, noise, next, meters, rate);
    }
    tell_contacts_apart(std::span(group).first(count));
    for (std::size_t i = 0; i < count; ++i) {
        if (measured.size() >= settings.keep_sound_of) {
            group[i].tap.excerpt = {};
        }
        measured.emplace_back(group[i].event, std::move(group[i].tap));
    }
    group.erase(group.begin(), group.begin() + static_cast<std::ptrdiff_t>(count));
}

TakeAnalyser::TakeAnalyser(int channels, double recorded_rate_hz, const TakeSettings& settings) {
    assert(channels == 1 || channels == 2);
    state_ = std::make_unique<State>(channels, recorded_rate_hz, settings);
}
TakeAnalyser::~TakeAnalyser() = default;
TakeAnalyser::TakeAnalyser(TakeAnalyser&&) noexcept = default;
TakeAnalyser& TakeAnalyser::operator=(TakeAnalyser&&) noexcept = default;

void TakeAnalyser::feed(std::span<const float> interleaved) {
    assert(state_->recorded_rate_hz == analysis_rate_hz);
    state_->feed(interleaved, interleaved);
}

void TakeAnalyser::feed(std::span<const float> recorded, std::span<const float> resampled) {
    state_->feed(recorded, resampled);
}

void TakeAnalyser::note_dropout() {
    ++state_->lost;
    note_pause();
}

void TakeAnalyser::note_pause() {
    const Position here(static_cast<double>(state_->end()));
    state_->gaps.push_back({.begin = here, .length = Length(1.0)});
    state_->watch.go_on_at(here);
}

TakeAnalysis TakeAnalyser::finish() {
    State& s = *state_;
    s.note(s.finder.finish());
    s.cut_out(true);
    qualify_run(s.events, rate);
    std::erase_if(s.group, [&](const OpenTap& open) { return !s.events[open.event].is_tap; });
    s.measure_group(true);

    TakeAnalysis take;
    take.sample_rate_hz = analysis_rate_hz;
    take.channels = static_cast<int>(s.channels);
    take.duration_s = static_cast<double>(s.end()) / analysis_rate_hz;
    for (const FrequencyBand& band : s.meters.impact.bands()) {
        take.band_centres_hz.push_back(band.centre.hz());
    }
    for (const FoundEvent& event : s.events) {
        if (!event.is_tap) {
            take.turned_down.push_back({.at_s = event.onset.seconds(rate), .reason = event.reason});
        }
    }
    for (auto& [number, tap] : s.measured) {
        if (s.events[number].is_tap) {
            take.taps.push_back(std::move(tap));
        }
    }

    FitnessEvidence evidence;
    evidence.taps = take.taps;
    evidence.duration_s = take.duration_s;
    std::vector<const FoundEvent*> taps;
    for (const FoundEvent& event : s.events) {
        if (event.is_tap) {
            taps.push_back(&event);
        }
    }
    evidence.noise = noise_around(taps).value_or(s.finder.levels().noise);
    evidence.loudest = s.watch.loudest();
    const SignalFaults faults = s.watch.result();
    evidence.clipped_samples = faults.clipped_samples;
    evidence.dropouts = s.lost + faults.dropouts.size();
    evidence.silent_share = faults.silent_share;
    evidence.silent_channel = s.watch.silent_channel();
    evidence.recorded_rate_hz = s.recorded_rate_hz;
    evidence.clipped_taps = static_cast<std::size_t>(std::ranges::count_if(take.taps, [](const Tap& tap) {
        return std::ranges::any_of(tap.reasons, [](const std::string& r) { return r.starts_with("clipped"); });
    }));
    take.fitness = judge_fitness(evidence);
    return take;
}

TakeAnalyser::Progress TakeAnalyser::progress() const {
    Progress now = state_->progress;
    const ListeningLevels levels = state_->finder.levels();
    now.noise_dbfs = levels.noise.db();
    now.peak_dbfs = levels.peak.db();
    return now;
}

} // namespace retap::dsp
