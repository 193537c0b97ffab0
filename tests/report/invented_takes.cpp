#include "invented_takes.hpp"

#include <cmath>
#include <numbers>
#include <random>
#include <utility>

namespace retap::test {

namespace {

constexpr double rate = dsp::analysis_rate_hz;

dsp::Excerpt excerpt(const std::vector<double>& contacts_ms, double brightness, std::mt19937& random) {
    std::normal_distribution<double> noise(0.0, 0.004);
    dsp::Excerpt made;
    made.onset_index = 96.4;
    std::vector<float> sound(960);
    for (std::size_t i = 0; i < sound.size(); ++i) {
        double value = noise(random);
        for (std::size_t c = 0; c < contacts_ms.size(); ++c) {
            const double t = (static_cast<double>(i) - made.onset_index) / rate - contacts_ms[c] / 1000.0;
            if (t >= 0.0) {
                const double strength = c == 0 ? 0.6 : 0.5;
                value += strength * std::exp(-t / 0.0016) * std::sin(2 * std::numbers::pi * 2600 * brightness * t);
                value += 0.4 * strength * std::exp(-t / 0.004) * std::sin(2 * std::numbers::pi * 900 * brightness * t);
            }
        }
        sound[i] = static_cast<float>(value);
    }
    made.samples = std::move(sound);
    return made;
}

compare::MeasureComparison measure(std::string name, std::string unit, double before, double after, double scatter,
                                   double tolerance, bool decides, std::string plain) {
    compare::MeasureComparison made;
    made.name = std::move(name);
    made.unit = std::move(unit);
    made.before = {before, scatter, 8};
    made.after = {after, scatter * 1.2, 8};
    made.difference = after - before;
    made.low = made.difference - scatter;
    made.high = made.difference + scatter;
    made.tolerance = tolerance;
    made.decides = decides;
    made.finding = made.low > -tolerance && made.high < tolerance   ? compare::Finding::within
                   : made.low > tolerance || made.high < -tolerance ? compare::Finding::beyond
                                                                    : compare::Finding::unclear;
    made.plain = std::move(plain);
    return made;
}

} // namespace

dsp::TakeAnalysis invented_take(const InventedTake& wanted) {
    std::mt19937 random(wanted.seed);
    std::normal_distribution<double> jitter(0.0, 1.0);
    dsp::TakeAnalysis take;
    take.file = wanted.file;
    take.sample_rate_hz = rate;
    take.channels = wanted.channels;
    take.duration_s = 1.0 + 0.5 * static_cast<double>(wanted.taps);
    take.fitness.noise_dbfs = -71.3;
    take.fitness.snr_db = 52.4;
    take.fitness.bandwidth_hz = 14000.0;
    for (int k = -10; k <= 12; ++k) {
        take.band_centres_hz.push_back(1000.0 * std::pow(10.0, 0.1 * k));
    }
    for (std::size_t i = 0; i < wanted.taps; ++i) {
        dsp::Tap tap;
        tap.onset_s = 0.8 + 0.5 * static_cast<double>(i) + 0.02 * jitter(random);
        std::vector<double> at_ms;
        for (std::size_t c = 0; c < wanted.contacts_ms.size(); ++c) {
            const double at = c == 0 ? 0.0 : std::max(0.03, wanted.contacts_ms[c] + 0.03 * jitter(random));
            at_ms.push_back(at);
            tap.contacts.push_back({at, c == 0 ? 0.7 : 1.0});
        }
        tap.onset_spread_ms = at_ms.empty() ? 0.0 : at_ms.back();
        tap.resolution_ms = 0.08;
        tap.rise_ms = 0.4 + tap.onset_spread_ms;
        tap.duration_ms = 11.0 + jitter(random);
        tap.decay_ms = 24.0 + jitter(random);
        tap.peak_dbfs = -12.0 + jitter(random);
        tap.energy_db = 3.0 + jitter(random);
        tap.centroid_hz = 2400.0 * wanted.brightness + 60.0 * jitter(random);
        for (const double hz : take.band_centres_hz) {
            const double octaves = std::log2(hz / (2400.0 * wanted.brightness));
            tap.bands_db.push_back(-20.0 - 4.0 * octaves * octaves + 0.8 * jitter(random));
        }
        tap.excerpt = excerpt(at_ms, wanted.brightness, random);
        if (wanted.channels == 2) {
            tap.left_lead_ms = 0.05 + 0.01 * jitter(random);
            tap.left_excess_db = 1.5 + 0.2 * jitter(random);
        }
        take.taps.push_back(std::move(tap));
    }
    return take;
}

compare::Comparison invented_comparison(compare::Verdict verdict) {
    compare::Comparison made;
    made.verdict = verdict;
    made.before = invented_take();
    const bool changed = verdict == compare::Verdict::different;
    made.after =
        invented_take({.file = "after.wav",
                       .contacts_ms = changed ? std::vector<double>{0.0, 0.9, 1.15} : std::vector<double>{0.0, 0.14},
                       .brightness = changed ? 0.86 : 1.0,
                       .seed = 11});
    switch (verdict) {
    case compare::Verdict::alike:
        made.likeness = {91.0, 84.0, 96.0};
        made.sentence = "After sounds like before.";
        made.reasons = {"Every measure that decides stayed within what re-seating the pick-up does."};
        break;
    case compare::Verdict::different:
        made.likeness = {23.0, 12.0, 37.0};
        made.sentence = "After sounds different: the contacts no longer land together.";
        made.reasons = {"The contacts of a tap are spread over 1.0 ms more than before."};
        break;
    case compare::Verdict::unclear:
        made.likeness = {68.0, 41.0, 88.0};
        made.sentence = "It is not clear whether after sounds like before.";
        made.reasons = {"Five usable taps leave the spread of contacts open. Three more good taps would settle it.",
                        "The room was noisy: suction off while recording would help."};
        break;
    }
    made.measures = {
        measure("onset_spread", "ms", 0.12, changed ? 1.15 : 0.14, 0.04, 0.15, true,
                changed ? "The teeth land one after the other." : "The teeth land together, as before."),
        measure("rise", "ms", 0.52, changed ? 1.4 : 0.54, verdict == compare::Verdict::unclear ? 0.2 : 0.03, 0.15, true,
                changed ? "The sound builds up more slowly." : "The sound builds up as fast as before."),
        measure("bands", "dB", 0.0, changed ? 4.2 : 0.6, 0.8, 3.0, true,
                changed ? "The sound is duller." : "The pitch of the sound is the same."),
        measure("centroid", "Hz", 2412.0, changed ? 2080.0 : 2431.0, 60.0, 200.0, false,
                "Where the middle of the spectrum lies."),
        measure("peak", "dBFS", -12.1, -13.4, 1.1, 0.0, false, "How loud the taps are; depends on force."),
    };
    return made;
}

} // namespace retap::test
