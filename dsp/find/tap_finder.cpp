#include "dsp/find/tap_finder.hpp"

#include "dsp/onset/aic_picker.hpp"
#include "dsp/stream/recent_sound.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <deque>
#include <utility>

namespace retap::dsp {

namespace {

constexpr double settle_s = 0.65; // the rules look this far beyond an event
constexpr double kept_s = 1.6;    // sound kept for the close look: settle_s, the event, and the quiet before it
constexpr double peak_hold_s = 0.05;
constexpr std::size_t whitening_order = 16;

std::int64_t sample_number(double samples) {
    return static_cast<std::int64_t>(std::max(0.0, samples));
}

} // namespace

struct TapFinder::State {
    State(SampleRate r, const FindSettings& settings)
        : rate(r), limits(settings.tap), detector(r, settings.events),
          recent(static_cast<std::size_t>(kept_s * r.hz())),
          settle_frames(std::llround(settle_s * detector.frames_per_second())) {
        frame.reserve(detector.frame_length());
    }

    void take(std::vector<RoughEvent> rough) { waiting.insert(waiting.end(), rough.begin(), rough.end()); }
    [[nodiscard]] std::vector<FoundEvent> settle(std::int64_t now) {
        std::vector<FoundEvent> found;
        while (!waiting.empty() && waiting.front().main + settle_frames <= now) {
            found.push_back(look_closely(waiting.front()));
            waiting.pop_front();
        }
        return found;
    }
    [[nodiscard]] FoundEvent look_closely(const RoughEvent& event) const;
    [[nodiscard]] std::optional<NoiseModel> noise_around(const RoughEvent& event) const;
    [[nodiscard]] double onset_of(const RoughEvent& event) const;
    void process_frame();

    SampleRate rate;
    TapLimits limits;
    EventDetector detector;
    RecentSound recent;
    std::int64_t settle_frames;
    std::vector<float> frame;
    std::deque<RoughEvent> waiting;
    std::deque<float> peaks; // of the frames within peak_hold_s
};

// The quietest stretches near the event, the event itself left out.
std::optional<NoiseModel> TapFinder::State::noise_around(const RoughEvent& event) const {
    struct Stretch {
        double power;
        std::span<const float> samples;
    };
    const FrameHistory& history = detector.history();
    const double fps = detector.frames_per_second();
    const auto frames = [&](double s) -> std::int64_t { return std::llround(s * fps); };
    constexpr std::int64_t length = 8;
    std::vector<Stretch> stretches;
    const auto collect = [&](std::int64_t from, std::int64_t to) {
        for (std::int64_t f = std::max(from, history.begin()); f + length <= std::min(to, history.end()); f += length) {
            double power = 0.0;
            for (std::int64_t g = f; g < f + length; ++g) {
                for (const double band : history[g].subspan(1)) {
                    power += band;
                }
            }
            const auto view = recent.view(sample_number(detector.time_of(f).samples()),
                                          sample_number(detector.time_of(f + length).samples()));
            if (view.size() > 2 * whitening_order) {
                stretches.push_back({power, view});
            }
        }
    };
    std::int64_t from = event.first - frames(0.4);
    const std::int64_t to = event.first - frames(0.012);
    // A device that has just woken up: what came before its first noise says nothing of that noise.
    if (const std::int64_t begins = detector.sound_begins() + 1; begins + 2 * length <= to) {
        from = std::max(from, begins);
    }
    collect(from, to);
    collect(event.main + frames(0.08), event.main + frames(0.3));
    std::sort(stretches.begin(), stretches.end(), [](const Stretch& a, const Stretch& b) { return a.power < b.power; });
    std::vector<std::span<const float>> quiet;
    for (std::size_t i = 0; i < std::min<std::size_t>(12, stretches.size()); ++i) {
        quiet.push_back(stretches[i].samples);
    }
    return model_noise(quiet, whitening_order);
}

double TapFinder::State::onset_of(const RoughEvent& event) const {
    const double first = detector.time_of(event.first).samples();
    const double main = detector.time_of(event.main).samples();
    const double search = first - 6e-3 * rate.hz(); // a rise shows in the lowest octaves some frames late
    const std::int64_t from = std::max(recent.begin(), sample_number(search - 20e-3 * rate.hz()));
    const auto view = recent.view(from, sample_number(main + 20e-3 * rate.hz()));
    const double rough = std::max(0.0, first);
    const auto noise = noise_around(event);
    if (view.empty()) {
        return rough;
    }
    const auto in_view = [&](double samples) {
        return static_cast<std::size_t>(std::max(from, sample_number(samples)) - from);
    };
    const std::size_t main_in_view = std::min(in_view(main), view.size() - 1);
    if (noise) {
        const std::size_t search_in_view = in_view(search);
        return static_cast<double>(from) +
               aic_pick(view, search_in_view, main_in_view, *noise, rate).value_or(rough - static_cast<double>(from));
    }
    // Around it all is silent: the first sample that differs from the silence.
    const float rest = view.front();
    const auto start = std::find_if(view.begin(), view.end(), [&](float x) { return x != rest; });
    return static_cast<double>(from) + (start == view.end() ? 0.0 : static_cast<double>(start - view.begin()));
}

FoundEvent TapFinder::State::look_closely(const RoughEvent& event) const {
    FoundEvent found{.onset = Position(std::max(0.0, detector.time_of(event.first).samples())),
                     .is_tap = true,
                     .could_be_tap = !event.overshadowed,
                     .reason = {},
                     .shape = measure_shape(detector.history(), detector.floor(), event, detector.frames_per_second())};
    if (event.overshadowed) {
        found.reason = NoTap::overshadowed;
    } else {
        found.reason = not_a_tap(found.shape, limits);
    }
    found.is_tap = !found.reason;
    if (found.could_be_tap) {
        found.onset = Position(onset_of(event));
    }
    return found;
}

void TapFinder::State::process_frame() {
    recent.push(frame);
    float peak = 0.0F;
    for (const float x : frame) {
        peak = std::max(peak, std::abs(x));
    }
    peaks.push_back(peak);
    if (static_cast<double>(peaks.size()) > peak_hold_s * detector.frames_per_second()) {
        peaks.pop_front();
    }
    take(detector.process(frame));
    frame.clear();
}

TapFinder::TapFinder(SampleRate rate, const FindSettings& settings) : state_(std::make_unique<State>(rate, settings)) {}
TapFinder::~TapFinder() = default;
TapFinder::TapFinder(TapFinder&&) noexcept = default;
TapFinder& TapFinder::operator=(TapFinder&&) noexcept = default;

std::vector<FoundEvent> TapFinder::feed(std::span<const float> block) {
    State& s = *state_;
    const std::size_t length = s.detector.frame_length();
    std::vector<FoundEvent> found;
    while (!block.empty()) {
        const auto part = block.first(std::min(block.size(), length - s.frame.size()));
        s.frame.insert(s.frame.end(), part.begin(), part.end());
        block = block.subspan(part.size());
        if (s.frame.size() == length) {
            s.process_frame();
            for (FoundEvent& event : s.settle(s.detector.history().end())) {
                found.push_back(std::move(event));
            }
        }
    }
    return found;
}

std::vector<FoundEvent> TapFinder::finish() {
    State& s = *state_;
    if (!s.frame.empty()) { // the last frame is completed by holding its last sample: no step, no sound
        s.frame.resize(s.detector.frame_length(), s.frame.back());
        s.process_frame();
    }
    s.take(s.detector.finish());
    return s.settle(s.detector.history().end() + s.settle_frames);
}

double TapFinder::settling_time_s() {
    return settle_s + 0.02; // the octaves show it some 13 ms late
}

ListeningLevels TapFinder::levels() const {
    const State& s = *state_;
    double noise = 0.0;
    for (const double band : s.detector.floor().subspan(1)) {
        noise += band;
    }
    const float peak = s.peaks.empty() ? 0.0F : *std::max_element(s.peaks.begin(), s.peaks.end());
    return {.noise = Level::from_power(noise), .peak = Level::from_amplitude(static_cast<double>(peak))};
}

} // namespace retap::dsp
