#include "dsp/take_analyser.hpp"

#include "dsp/analysis_settings.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/base/whole_samples.hpp"
#include "dsp/find/tap_finder.hpp"
#include "dsp/measure/fitness.hpp"
#include "dsp/measure/tap_faults.hpp"
#include "dsp/measure/tap_group.hpp"
#include "dsp/measure/tap_measures.hpp"
#include "dsp/run/qualify_run.hpp"
#include "dsp/stream/channel_sounds.hpp"
#include "dsp/stream/recording_watch.hpp"

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

/// What the background was when the taps were heard; at the end of a recording it may be another, or exact silence.
std::optional<Level> noise_around(std::span<const FoundEvent* const> taps) {
    std::vector<double> noise_db;
    std::ranges::transform(taps, std::back_inserter(noise_db),
                           [](const FoundEvent* tap) { return tap->shape.loudness.db() - tap->shape.over_noise.db(); });
    return noise_db.empty() ? std::nullopt : std::optional(Level(median(noise_db)));
}

Level peak_of(std::span<const float> sound) {
    double peak = 0.0;
    for (const float x : sound) {
        peak = std::max(peak, std::abs(static_cast<double>(x)));
    }
    return Level::from_amplitude(peak);
}

/// How much must be kept to cut out a tap once it is known to be one.
std::size_t samples_to_keep(const TakeSettings& settings) {
    const double kept_s = TapFinder::settling_time_s() + 0.5 + 1e-3 * (settings.before_ms + settings.after_ms);
    return static_cast<std::size_t>(kept_s * analysis_rate_hz);
}

} // namespace

struct TakeAnalyser::State {
    State(int channel_count, double recorded_hz, const AnalysisSettings& in_force)
        : settings(std::make_shared<AnalysisSettings>(in_force)), recorded_rate_hz(recorded_hz),
          finder(rate, settings->find),
          before(static_cast<std::int64_t>(whole_samples(settings->take.before_ms, rate))),
          after(static_cast<std::int64_t>(whole_samples(settings->take.after_ms, rate))),
          meters(rate, settings->measure),
          sides(static_cast<std::size_t>(channel_count), samples_to_keep(settings->take)),
          watch(sides.channels(), SampleRate(recorded_rate_hz), rate) {}

    void feed(std::span<const float> recorded, std::span<const float> interleaved);
    void note(std::vector<FoundEvent> found);
    void cut_out(bool ended);
    [[nodiscard]] CutTap cut(std::size_t event) const;
    void note_progress(const CutTap& cut);
    void drop_unlikely();
    void measure_group(bool last);
    [[nodiscard]] TakeAnalysis collect();
    [[nodiscard]] Fitness judge(const TakeAnalysis& take) const;

    struct Measured {
        std::size_t event;
        Tap tap;
        bool clipped;
    };

    std::shared_ptr<const AnalysisSettings> settings;
    double recorded_rate_hz;
    TapFinder finder;
    std::int64_t before;
    std::int64_t after;
    TapMeters meters;
    ChannelSounds sides;
    RecordingWatch watch;
    std::vector<SampleRun> gaps; ///< places that nothing is timed across
    std::size_t lost = 0;        ///< how many of them lost sound
    std::vector<FoundEvent> events;
    std::deque<std::size_t> uncut; ///< events that may be taps, whose sound is not all there yet
    std::vector<CutTap> group;     ///< cut out, to be measured together
    std::vector<Measured> measured;
    Progress progress;
};

void TakeAnalyser::State::feed(std::span<const float> recorded, std::span<const float> interleaved) {
    const std::size_t channels = sides.channels();
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
        note(finder.feed(sides.push(part(interleaved, step))));
        cut_out(false);
    }
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

void TakeAnalyser::State::note_progress(const CutTap& cut) {
    ++progress.taps;
    progress.usable += cut.tap.usable ? 1U : 0U;
    progress.last_tap_s = cut.tap.onset_s;
    progress.loudest_tap_dbfs = peak_of(cut.tap.excerpt.samples).db();
}

CutTap TakeAnalyser::State::cut(std::size_t event) const {
    const Position onset = events[event].onset;
    const auto at = static_cast<std::int64_t>(std::floor(onset.samples()));
    CutTap cut;
    cut.event = event;
    cut.found = onset;
    cut.begin = at - before;
    cut.tap.excerpt = sides.cut(cut.begin, at + after, onset.samples());
    cut.tap.onset_s = onset.seconds(rate);
    const TapFaults faults = faults_of_tap(onset, watch.result(), gaps, rate);
    cut.clipped = faults.clipped;
    cut.tap.usable = !faults.any();
    cut.tap.reasons = reasons_of(faults);
    return cut;
}

/// Cuts out the events that may be taps as soon as their sound has all been heard.
void TakeAnalyser::State::cut_out(bool ended) {
    while (!uncut.empty()) {
        const std::size_t event = uncut.front();
        if (!ended && static_cast<std::int64_t>(std::floor(events[event].onset.samples())) + after > sides.end()) {
            return;
        }
        uncut.pop_front();
        group.push_back(cut(event));
        if (events[event].is_tap) {
            note_progress(group.back());
        }
        if (!ended && group.size() > settings->take.group) {
            drop_unlikely();
        }
        if (!ended && group.size() > settings->take.group) {
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
    qualify_run(judged, rate, settings->run);
    std::erase_if(group, [&](const CutTap& cut) {
        FoundEvent& verdict = judged[cut.event - from];
        const double age_s = (events[newest].onset - events[cut.event].onset).seconds(rate);
        if (verdict.is_tap || cut.event == newest || (events[cut.event].is_tap && age_s < too_new_s)) {
            return false;
        }
        verdict.could_be_tap = false;
        events[cut.event] = std::move(verdict);
        return true;
    });
}

void TakeAnalyser::State::measure_group(bool last) {
    const std::size_t count = last ? group.size() : group.size() - 1;
    const std::span<CutTap> ready = std::span(group).first(count);
    std::vector<const FoundEvent*> taps;
    std::ranges::transform(ready, std::back_inserter(taps), [&](const CutTap& cut) { return &events[cut.event]; });
    const Level noise = noise_around(taps).value_or(finder.levels().noise);
    measure_together(ready, last ? std::nullopt : std::optional(group.back().found), noise, meters, rate,
                     settings->together);
    for (CutTap& cut : ready) {
        if (measured.size() >= settings->take.keep_sound_of) {
            cut.tap.excerpt = {};
        }
        measured.push_back({.event = cut.event, .tap = std::move(cut.tap), .clipped = cut.clipped});
    }
    group.erase(group.begin(), group.begin() + static_cast<std::ptrdiff_t>(count));
}

/// What was found, once all of it is measured.
TakeAnalysis TakeAnalyser::State::collect() {
    TakeAnalysis take;
    take.settings = settings;
    take.sample_rate_hz = analysis_rate_hz;
    take.channels = static_cast<int>(sides.channels());
    take.duration_s = static_cast<double>(sides.end()) / analysis_rate_hz;
    for (const FrequencyBand& band : meters.impact.bands()) {
        take.band_centres_hz.push_back(band.centre.hz());
    }
    for (const FoundEvent& event : events) {
        if (!event.is_tap) {
            assert(event.reason);
            take.turned_down.push_back({.at_s = event.onset.seconds(rate), .reason = *event.reason});
        }
    }
    std::erase_if(measured, [&](const Measured& one) { return !events[one.event].is_tap; });
    for (Measured& one : measured) {
        take.taps.push_back(std::move(one.tap));
    }
    return take;
}

Fitness TakeAnalyser::State::judge(const TakeAnalysis& take) const {
    FitnessEvidence evidence;
    evidence.taps = take.taps;
    evidence.duration_s = take.duration_s;
    std::vector<const FoundEvent*> taps;
    for (const FoundEvent& event : events) {
        if (event.is_tap) {
            taps.push_back(&event);
        }
    }
    evidence.noise = noise_around(taps).value_or(finder.levels().noise);
    evidence.loudest = watch.loudest();
    const SignalFaults faults = watch.result();
    evidence.clipped_samples = faults.clipped_samples;
    evidence.clipped_taps = static_cast<std::size_t>(std::ranges::count_if(measured, &Measured::clipped));
    evidence.dropouts = lost + faults.dropouts.size();
    evidence.silent_share = faults.silent_share;
    evidence.silent_channel = watch.silent_channel();
    evidence.recorded_rate_hz = recorded_rate_hz;
    return judge_fitness(evidence, settings->fitness);
}

TakeAnalyser::TakeAnalyser(int channels, double recorded_rate_hz)
    : TakeAnalyser(channels, recorded_rate_hz, AnalysisSettings{}) {}
TakeAnalyser::TakeAnalyser(int channels, double recorded_rate_hz, const AnalysisSettings& settings) {
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
    const Position here(static_cast<double>(state_->sides.end()));
    state_->gaps.push_back({.begin = here, .length = Length(1.0)});
    state_->watch.go_on_at(here);
}

TakeAnalysis TakeAnalyser::finish() {
    State& s = *state_;
    s.note(s.finder.finish());
    s.cut_out(true);
    qualify_run(s.events, rate, s.settings->run);
    std::erase_if(s.group, [&](const CutTap& cut) { return !s.events[cut.event].is_tap; });
    s.measure_group(true);
    TakeAnalysis take = s.collect();
    take.fitness = s.judge(take);
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
