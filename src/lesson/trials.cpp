#include "lesson/trials.hpp"

#include "audio/inspect_file.hpp"
#include "bite/random.hpp"
#include "compare/compare_takes.hpp"
#include "lesson/bite_sounds.hpp"

#include <algorithm>
#include <cassert>
#include <future>
#include <span>

namespace retap::lesson {
namespace {

constexpr std::size_t upper_right_first_molar = 1; // pair
constexpr double pause_s = 0.5;

std::vector<audio::Sound> make_sounds(const std::vector<bite::LessonBite>& bites) {
    std::vector<std::future<audio::Sound>> pending;
    pending.reserve(bites.size());
    for (const bite::LessonBite& bite : bites) {
        pending.push_back(std::async(std::launch::async, [&bite] { return sound_of(bite::make_lesson_take(bite)); }));
    }
    std::vector<audio::Sound> sounds;
    sounds.reserve(bites.size());
    for (auto& sound : pending) {
        sounds.push_back(sound.get());
    }
    match_levels(sounds);
    return sounds;
}

Trial trial_with(std::size_t count, std::optional<std::size_t> odd, double height_um, const TrialSettings& settings,
                 bite::Random& random) {
    std::vector<bite::LessonBite> bites(count);
    for (std::size_t i = 0; i < count; ++i) {
        bites[i].seed = settings.mouth;
        bites[i].take = random.bits();
        bites[i].speed_m_per_s = settings.speed_m_per_s;
        bites[i].taps = settings.taps;
        if (odd == i) {
            bites[i].heights = {{.pair = upper_right_first_molar, .height_um = height_um}};
        }
    }
    return {.height_um = height_um, .odd = odd, .sounds = make_sounds(bites)};
}

bite::Random stream_of(std::uint64_t seed, std::size_t number) {
    return {seed, "trial " + std::to_string(number)};
}

double likeness(const dsp::TakeAnalysis& a, const dsp::TakeAnalysis& b) {
    return compare::compare_takes({&a, 1}, {&b, 1}).likeness.score;
}

} // namespace

Trial odd_one_trial(double height_um, const TrialSettings& settings, std::uint64_t seed, std::size_t number) {
    bite::Random random = stream_of(seed, number);
    const std::size_t odd = random.below(3);
    return trial_with(3, odd, height_um, settings, random);
}

Trial same_or_different_trial(double height_um, const TrialSettings& settings, std::uint64_t seed, std::size_t number) {
    bite::Random block = stream_of(seed, number / 2 * 2);
    const bool first_differs = block.below(2) == 1;
    const bool differs = first_differs == (number % 2 == 0);
    bite::Random random(seed, "pair " + std::to_string(number));
    const std::size_t where = random.below(2);
    return trial_with(2, differs ? std::optional(where) : std::nullopt, height_um, settings, random);
}

audio::Sound in_a_row(const Trial& trial) {
    audio::Sound row = trial.sounds.front();
    for (std::size_t i = 1; i < trial.sounds.size(); ++i) {
        row.interleaved.insert(row.interleaved.end(), static_cast<std::size_t>(pause_s * row.sample_rate_hz), 0.0F);
        row.interleaved.insert(row.interleaved.end(), trial.sounds[i].interleaved.begin(),
                               trial.sounds[i].interleaved.end());
    }
    return row;
}

std::vector<double> row_starts_s(const Trial& trial) {
    std::vector<double> starts;
    double at_s = 0.0;
    for (const audio::Sound& sound : trial.sounds) {
        starts.push_back(at_s);
        const std::size_t frames = sound.interleaved.size() / static_cast<std::size_t>(sound.channels);
        at_s += static_cast<double>(frames) / sound.sample_rate_hz + pause_s;
    }
    return starts;
}

RetapAnswer ask_retap(const Trial& trial) {
    std::vector<dsp::TakeAnalysis> heard;
    for (const audio::Sound& sound : trial.sounds) {
        heard.push_back(audio::inspect_sound(sound, ""));
    }
    if (heard.size() == 2) {
        const auto comparison = compare::compare_takes(std::span(heard).first(1), std::span(heard).last(1));
        const bool different = comparison.verdict == compare::Verdict::different;
        return {.right = different == trial.odd.has_value(),
                .says_different = different,
                .likeness = comparison.likeness.score};
    }
    assert(heard.size() == 3 && trial.odd);
    // The odd one is left over when the two most alike are taken away.
    const std::vector<double> without{likeness(heard[1], heard[2]), likeness(heard[0], heard[2]),
                                      likeness(heard[0], heard[1])};
    const auto best = std::max_element(without.begin(), without.end());
    const bool tie = std::count(without.begin(), without.end(), *best) > 1;
    return {.right = !tie && static_cast<std::size_t>(best - without.begin()) == *trial.odd};
}

} // namespace retap::lesson
