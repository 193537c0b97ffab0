#include "dsp/measure/fitness.hpp"

#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

using namespace retap::dsp;
using retap::test::add;
using retap::test::sampled;
using retap::test::white_noise;

namespace {

constexpr double noise_rms = 1e-3; // -60 dBFS

// Broad taps 50 dB above the noise, 20 ms before to 130 ms after each onset.
std::vector<Tap> good_taps(std::size_t n) {
    std::vector<Tap> taps;
    for (std::size_t i = 0; i < n; ++i) {
        Tap tap;
        tap.peak_dbfs = -10.0;
        std::vector<float> sound = sampled({0.4, 3000.0, 1500.0}, 7200, 960.0, 48000.0);
        add(sound, white_noise(7200, noise_rms, 161 + static_cast<unsigned>(i)));
        tap.excerpt = {.samples = std::move(sound), .sides = {}, .onset_index = 960.0};
        taps.push_back(tap);
    }
    return taps;
}

FitnessEvidence evidence_of(const std::vector<Tap>& taps) {
    return {
        .taps = taps, .duration_s = 8.0, .noise = Level(-60.0), .loudest = Level(-9.0), .recorded_rate_hz = 48000.0};
}

bool says(const std::vector<std::string>& sentences, const std::string& words) {
    return std::ranges::any_of(sentences, [&](const std::string& s) { return s.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("a good take is fit, without a word") {
    const std::vector<Tap> taps = good_taps(8);
    const Fitness fitness = judge_fitness(evidence_of(taps), {});
    CHECK(fitness.usable);
    CHECK(fitness.reasons.empty());
    CHECK(fitness.cautions.empty());
    CHECK(fitness.snr_db == doctest::Approx(50.0));
    CHECK(fitness.noise_dbfs == doctest::Approx(-60.0));
    CHECK(fitness.bandwidth_hz > 8000.0);
}

TEST_CASE("an empty, a silent and a tapless recording each say so, and nothing else") {
    FitnessEvidence evidence;
    CHECK(says(judge_fitness(evidence, {}).reasons, "empty"));
    evidence.duration_s = 5.0;
    CHECK(says(judge_fitness(evidence, {}).reasons, "Nothing was heard"));
    evidence.loudest = Level(-20.0);
    CHECK(says(judge_fitness(evidence, {}).reasons, "No taps were found"));
    CHECK(judge_fitness(evidence, {}).reasons.size() == 1);
    CHECK_FALSE(judge_fitness(evidence, {}).usable);
}

TEST_CASE("fewer than three usable taps refuse a take, fewer than six are a caution") {
    std::vector<Tap> taps = good_taps(8);
    const auto with_usable = [&](std::size_t n) {
        for (std::size_t i = 0; i < taps.size(); ++i) {
            taps[i].usable = i < n;
        }
        return judge_fitness(evidence_of(taps), {});
    };
    CHECK(says(with_usable(0).reasons, "None of the taps"));
    CHECK(says(with_usable(1).reasons, "Only 1 tap can be used"));
    CHECK_FALSE(with_usable(2).usable);
    CHECK(with_usable(3).usable);
    CHECK(says(with_usable(5).cautions, "Only 5 taps"));
    CHECK(with_usable(6).cautions.empty());
}

TEST_CASE("clipping refuses a take when more than a quarter of its taps are hit") {
    const std::vector<Tap> taps = good_taps(8);
    FitnessEvidence evidence = evidence_of(taps);
    evidence.clipped_samples = 12;
    evidence.clipped_taps = 2;
    CHECK(judge_fitness(evidence, {}).usable);
    CHECK(says(judge_fitness(evidence, {}).cautions, "cut off at the top"));
    evidence.clipped_taps = 3;
    CHECK(says(judge_fitness(evidence, {}).reasons, "3 of 8 taps are cut off"));
    CHECK(judge_fitness(evidence, {}).clipped_samples == 12);
}

TEST_CASE("a background too near to the taps refuses the take, a near one is a caution") {
    const std::vector<Tap> taps = good_taps(8);
    FitnessEvidence evidence = evidence_of(taps);
    evidence.noise = Level(-29.0);
    CHECK(says(judge_fitness(evidence, {}).reasons, "only 19 dB above the background"));
    evidence.noise = Level(-31.0);
    CHECK(judge_fitness(evidence, {}).usable);
    CHECK(says(judge_fitness(evidence, {}).cautions, "21 dB"));
    evidence.noise = Level(-45.0);
    CHECK(judge_fitness(evidence, {}).cautions.empty());
}

TEST_CASE("a file at 8 kHz is refused, one at 16 kHz is a caution, 22 kHz will do") {
    const std::vector<Tap> taps = good_taps(8);
    FitnessEvidence evidence = evidence_of(taps);
    evidence.recorded_rate_hz = 8000.0;
    CHECK(says(judge_fitness(evidence, {}).reasons, "nothing above 4.0 kHz"));
    CHECK(judge_fitness(evidence, {}).bandwidth_hz == 4000.0);
    evidence.recorded_rate_hz = 16000.0;
    CHECK(judge_fitness(evidence, {}).usable);
    CHECK(says(judge_fitness(evidence, {}).cautions, "nothing above 8.0 kHz"));
    evidence.recorded_rate_hz = 22050.0;
    CHECK(judge_fitness(evidence, {}).cautions.empty());
}

TEST_CASE("dull taps are refused or cautioned about by how far up they can be heard") {
    const auto fitness_at = [](double hz, double decay) {
        std::vector<Tap> taps = good_taps(8);
        for (std::size_t i = 0; i < taps.size(); ++i) {
            std::vector<float> sound = sampled({0.05, hz, decay}, 7200, 960.0, 48000.0);
            add(sound, white_noise(7200, 0.003, 171 + static_cast<unsigned>(i)));
            taps[i].excerpt.samples = std::move(sound);
        }
        return judge_fitness(evidence_of(taps), {});
    };
    const Fitness dull = fitness_at(160.0, 40.0);
    CHECK(dull.bandwidth_hz < 1000.0);
    CHECK(says(dull.reasons, "too dull"));
    const Fitness better = fitness_at(1500.0, 300.0);
    CHECK(better.bandwidth_hz >= 2000.0);
    CHECK(better.bandwidth_hz < 4000.0);
    CHECK(says(better.cautions, "hard to tell apart"));
    CHECK(better.usable);
}

TEST_CASE("a few gaps are a caution, many refuse the take") {
    const std::vector<Tap> taps = good_taps(8);
    FitnessEvidence evidence = evidence_of(taps);
    evidence.dropouts = 1;
    CHECK(says(judge_fitness(evidence, {}).cautions, "1 gap;"));
    evidence.dropouts = 4;
    CHECK(says(judge_fitness(evidence, {}).reasons, "4 gaps"));
    CHECK(judge_fitness(evidence, {}).dropouts == 4);
}

TEST_CASE("digital silence between the taps is a caution about noise suppression") {
    const std::vector<Tap> taps = good_taps(8);
    FitnessEvidence evidence = evidence_of(taps);
    evidence.silent_share = 0.5;
    CHECK(judge_fitness(evidence, {}).usable);
    CHECK(says(judge_fitness(evidence, {}).cautions, "noise suppression"));
}

TEST_CASE("a background that drops after each tap is a caution about level control") {
    std::vector<Tap> taps = good_taps(8);
    CHECK(std::abs(*background_drop_db(taps, SampleRate(48000.0))) < 1.0);
    const auto turned_down = [&taps](float gain) {
        std::vector<Tap> quieter = taps;
        for (Tap& tap : quieter) {
            std::vector<float> sound = tap.excerpt.samples;
            for (std::size_t i = 960; i < sound.size(); ++i) {
                sound[i] *= gain; // from the onset on
            }
            tap.excerpt.samples = std::move(sound);
        }
        return quieter;
    };
    CHECK(*background_drop_db(turned_down(0.25F), SampleRate(48000.0)) == doctest::Approx(12.04).epsilon(0.05));
    CHECK(says(judge_fitness(evidence_of(turned_down(0.25F)), {}).cautions, "level control"));
    CHECK(says(judge_fitness(evidence_of(turned_down(0.6F)), {}).cautions, "level control"));       // 4.4 dB
    CHECK_FALSE(says(judge_fitness(evidence_of(turned_down(0.8F)), {}).cautions, "level control")); // 1.9 dB
    taps.resize(4);
    CHECK_FALSE(background_drop_db(taps, SampleRate(48000.0)));
}

TEST_CASE("every reason and caution is a sentence or more that says what to try") {
    std::vector<Tap> taps = good_taps(5);
    FitnessEvidence evidence = evidence_of(taps);
    evidence.noise = Level(-15.0);
    evidence.recorded_rate_hz = 8000.0;
    evidence.clipped_samples = 9;
    evidence.clipped_taps = 5;
    evidence.dropouts = 9;
    evidence.silent_share = 0.5;
    const Fitness fitness = judge_fitness(evidence, {});
    CHECK(fitness.reasons.size() == 4);
    CHECK(fitness.cautions.size() == 2);
    for (const auto* list : {&fitness.reasons, &fitness.cautions}) {
        for (const std::string& s : *list) {
            CAPTURE(s);
            CHECK(std::isupper(static_cast<unsigned char>(s.front())) != 0);
            CHECK(s.back() == '.');
            CHECK(s.size() > 40);
        }
    }
}

TEST_CASE("taps that grow softer all along are a caution with by how much, and a single loud one is not") {
    const auto cautions_at = [](std::initializer_list<double> peaks_dbfs) {
        std::vector<Tap> taps = good_taps(peaks_dbfs.size());
        std::ranges::transform(taps, peaks_dbfs, taps.begin(), [](Tap tap, double peak_dbfs) {
            tap.peak_dbfs = peak_dbfs;
            return tap;
        });
        return judge_fitness(evidence_of(taps), {}).cautions;
    };
    CHECK(says(cautions_at({-10.0, -11.2, -12.1, -13.3, -14.4, -15.2, -16.1, -17.0}),
               "softer from the first to the last, by 7 dB"));
    CHECK(says(cautions_at({-17.0, -16.1, -15.2, -14.4, -13.3, -12.1, -11.2, -10.0}), "louder from the first"));
    CHECK_FALSE(
        says(cautions_at({-10.0, -10.5, -11.0, -11.5, -12.0, -12.5, -13.0, -13.5}), "from the first")); // 3.5 dB
    CHECK_FALSE(says(cautions_at({-2.0, -12.0, -11.6, -12.3, -11.8, -12.1, -11.9, -12.2}), "from the first"));
    CHECK_FALSE(says(cautions_at({-10.0, -20.0, -12.0, -9.0, -18.0, -11.0, -19.0, -14.0}), "from the first"));
    CHECK_FALSE(says(cautions_at({-10.0, -13.0, -17.0, -20.0}), "from the first")); // four can show nothing
}

TEST_CASE("a long take is looked at for drift by taps all through it") {
    std::vector<Tap> taps = good_taps(200);
    for (std::size_t i = 0; i < taps.size(); ++i) {
        taps[i].excerpt = {};
        taps[i].peak_dbfs = -10.0 - 0.05 * static_cast<double>(i);
    }
    CHECK(says(judge_fitness(evidence_of(taps), {}).cautions, "softer from the first to the last, by 10 dB"));
}
