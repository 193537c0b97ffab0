// walk_tap TAKE [N]: what each room of the sound stage says of the N-th tap of a take (the first, unless said
// otherwise), in the order in which the sound goes through them.
#include "audio/inspect_file.hpp"
#include "audio/sound_file.hpp"
#include "dsp/analysis_settings.hpp"
#include "dsp/find/tap_finder.hpp"
#include "dsp/run/qualify_run.hpp"
#include "error.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <exception>
#include <iterator>
#include <string>
#include <vector>

namespace {

using namespace retap;

const dsp::SampleRate rate(dsp::analysis_rate_hz);

std::vector<dsp::FoundEvent> events_of(const audio::Sound& sound, const dsp::AnalysisSettings& settings) {
    if (sound.sample_rate_hz != dsp::analysis_rate_hz || sound.channels != 1) {
        throw InputError("Give a take of one channel at 48 kHz: the walk starts behind the resampler.");
    }
    dsp::TapFinder finder(rate, settings.find);
    std::vector<dsp::FoundEvent> events = finder.feed(sound.interleaved);
    std::ranges::move(finder.finish(), std::back_inserter(events));
    return events;
}

void walk(const std::string& file, std::size_t number) {
    const dsp::AnalysisSettings settings;
    std::vector<dsp::FoundEvent> events = events_of(audio::read_sound(file), settings);
    const auto alone = std::ranges::count_if(events, &dsp::FoundEvent::is_tap);
    dsp::qualify_run(events, rate, settings.run);
    const dsp::TakeAnalysis take = audio::inspect_file(file);
    if (number == 0 || number > take.taps.size()) {
        throw InputError("The take has " + std::to_string(take.taps.size()) + " taps; there is no tap " +
                         std::to_string(number) + ".");
    }
    const dsp::Tap& tap = take.taps[number - 1];
    const auto event = std::ranges::min_element(
        events, {}, [&](const dsp::FoundEvent& one) { return std::abs(one.onset.seconds(rate) - tap.onset_s); });
    const dsp::EventShape& shape = event->shape;
    std::printf("find      %zu events; this one at %.4f s, %.1f dBFS, %.1f dB over the noise floor,\n"
                "          up within %.1f ms, a jump of %.1f dB, %zu of %zu octaves risen\n",
                events.size(), event->onset.seconds(rate), shape.loudness.db(), shape.over_noise.db(), shape.rise_ms,
                shape.jump.db(), shape.octaves_risen, shape.octaves);
    std::printf(
        "run       %zu events pass for taps by themselves, %zu belong to the run; the neighbour is %.0f ms away\n",
        static_cast<std::size_t>(alone),
        static_cast<std::size_t>(std::ranges::count_if(events, &dsp::FoundEvent::is_tap)),
        take.taps.size() < 2
            ? 0.0
            : 1e3 * std::abs(take.taps[number < take.taps.size() ? number : number - 2].onset_s - tap.onset_s));
    std::printf("onset     %.4f s, moved by %+.2f ms by all taps together\n", tap.onset_s,
                1e3 * (tap.onset_s - event->onset.seconds(rate)));
    std::printf("contacts  %zu told apart; two nearer than %.2f ms would count as one\n", tap.contacts.size(),
                tap.resolution_ms);
    std::printf("measure   peak %.2f dBFS, up in %.2f ms, %.1f ms long, centre of the spectrum at %.0f Hz\n",
                tap.peak_dbfs, tap.rise_ms, tap.duration_ms, tap.centroid_hz);
    std::printf("take      %s: %.1f dB over the background, heard up to %.0f Hz\n",
                take.fitness.usable ? "fit" : "not fit", take.fitness.snr_db, take.fitness.bandwidth_hz);
}

} // namespace

int main(int argc, char** argv) {
    try {
        if (argc < 2 || argc > 3) {
            std::fprintf(stderr, "usage: walk_tap TAKE [N]\n");
            return 2;
        }
        walk(argv[1], argc == 3 ? std::stoul(argv[2]) : 1);
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "walk_tap: %s\n", error.what());
        return 3;
    }
}
