// Benchmarks of parts, on the demo takes. What a part costs per second of sound is shown as "sound": seconds of sound
// worked through in one second.
#include "audio/inspect_file.hpp"
#include "audio/resample.hpp"
#include "audio/sound_file.hpp"
#include "audio/sound_writer.hpp"
#include "compare/compare_takes.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/find/tap_finder.hpp"
#include "report/html_report.hpp"
#include "report/json.hpp"

#include <benchmark/benchmark.h>
#include <string>
#include <vector>

namespace {

using namespace retap;

const std::string before_file = RETAP_SOURCE_DIR "/recordings/before.flac";
const std::string after_file = RETAP_SOURCE_DIR "/recordings/after-high-100um.flac";

const audio::Sound& before_sound() {
    static const audio::Sound sound = audio::read_sound(before_file);
    return sound;
}

const std::vector<dsp::TakeAnalysis>& before() {
    static const std::vector<dsp::TakeAnalysis> takes{audio::inspect_file(before_file)};
    return takes;
}

const std::vector<dsp::TakeAnalysis>& after() {
    static const std::vector<dsp::TakeAnalysis> takes{audio::inspect_file(after_file)};
    return takes;
}

void count_sound(benchmark::State& state, const audio::Sound& sound) {
    const double seconds = static_cast<double>(sound.interleaved.size()) / sound.channels / sound.sample_rate_hz;
    state.counters["sound"] =
        benchmark::Counter(seconds * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

void read_flac(benchmark::State& state) {
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(audio::read_sound(before_file));
    }
    count_sound(state, before_sound());
}
BENCHMARK(read_flac)->Unit(benchmark::kMillisecond);

void write_flac(benchmark::State& state) {
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(audio::encode_sound(before_sound(), audio::SoundFormat::flac_24));
    }
    count_sound(state, before_sound());
}
BENCHMARK(write_flac)->Unit(benchmark::kMillisecond);

void resample(benchmark::State& state) {
    while (state.KeepRunning()) {
        audio::Resampler resampler(1, static_cast<double>(state.range(0)), 48000.0);
        benchmark::DoNotOptimize(resampler.process(before_sound().interleaved).size());
        benchmark::DoNotOptimize(resampler.finish().size());
    }
    audio::Sound sound = before_sound();
    sound.sample_rate_hz = static_cast<double>(state.range(0));
    count_sound(state, sound);
}
BENCHMARK(resample)->Arg(44100)->Arg(96000)->Unit(benchmark::kMillisecond);

void find_taps(benchmark::State& state) {
    while (state.KeepRunning()) {
        dsp::TapFinder finder(dsp::SampleRate(48000.0), {});
        benchmark::DoNotOptimize(finder.feed(before_sound().interleaved));
        benchmark::DoNotOptimize(finder.finish());
    }
    count_sound(state, before_sound());
}
BENCHMARK(find_taps)->Unit(benchmark::kMillisecond);

void analyse_take(benchmark::State& state) {
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(audio::inspect_sound(before_sound(), before_file));
    }
    count_sound(state, before_sound());
}
BENCHMARK(analyse_take)->Unit(benchmark::kMillisecond);

void compare_takes(benchmark::State& state) {
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(compare::compare_takes(before(), after()));
    }
}
BENCHMARK(compare_takes)->Unit(benchmark::kMillisecond);

void take_as_json(benchmark::State& state) {
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(report::json_text(report::take_json(before().front())));
    }
}
BENCHMARK(take_as_json)->Unit(benchmark::kMillisecond);

void report_as_html(benchmark::State& state) {
    const auto comparison = compare::compare_takes(before(), after());
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(report::comparison_report(comparison, {}, {}));
    }
}
BENCHMARK(report_as_html)->Unit(benchmark::kMillisecond);

void transform(benchmark::State& state) {
    dsp::RealFft fft(static_cast<std::size_t>(state.range(0)));
    const std::span<const float> sound(before_sound().interleaved);
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(fft.forward(sound.first(fft.size())));
    }
}
BENCHMARK(transform)->Arg(1024)->Arg(8192)->Unit(benchmark::kMicrosecond);

} // namespace

BENCHMARK_MAIN();
