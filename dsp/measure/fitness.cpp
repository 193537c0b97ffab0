#include "dsp/measure/fitness.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/measure/bandwidth.hpp"
#include "dsp/measure/drift.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <iterator>
#include <string>
#include <vector>

namespace retap::dsp {

namespace {

std::string whole(double value) {
    return std::to_string(std::lround(value));
}

std::string khz(double hz) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.1f kHz", hz / 1000.0);
    return text.data();
}

std::string counted(std::size_t n, const std::string& one, const std::string& many) {
    return std::to_string(n) + " " + (n == 1 ? one : many);
}

double rms(std::span<const float> x) {
    return std::sqrt(mean_square(x, mean(x)));
}

// Each rule looks at one thing and adds at most one sentence.

bool nothing_there(Fitness& fitness, const FitnessEvidence& evidence, const FitnessRules& rules) {
    if (evidence.duration_s <= 0.0) {
        fitness.reasons.emplace_back("The recording is empty. Record again.");
    } else if (evidence.loudest < rules.audible) {
        fitness.reasons.emplace_back(
            "Nothing was heard. Check that the right pick-up is chosen, plugged in and switched "
            "on, and record again.");
    } else if (evidence.taps.empty()) {
        fitness.reasons.emplace_back("No taps were found. Press the pick-up on firmly, ask the patient to tap the back "
                                     "teeth together about twice a second, and record again.");
    }
    return !fitness.reasons.empty();
}

void too_few(Fitness& fitness, std::size_t usable, const FitnessRules& rules) {
    if (usable < rules.min_taps) {
        fitness.reasons.push_back(
            (usable == 0 ? "None of the taps can be used" : "Only " + counted(usable, "tap", "taps") + " can be used") +
            "; at least " + std::to_string(rules.min_taps) + " are needed. Record again with 8 taps or more.");
    } else if (usable < rules.good_taps) {
        fitness.cautions.push_back("Only " + counted(usable, "tap", "taps") +
                                   " can be used, so a small change will not show. 8 or more are better.");
    }
}

void clipping(Fitness& fitness, const FitnessEvidence& evidence, const FitnessRules& rules) {
    if (evidence.clipped_samples == 0) {
        return;
    }
    const double share = static_cast<double>(evidence.clipped_taps) / static_cast<double>(evidence.taps.size());
    if (share > rules.max_clipped_share) {
        fitness.reasons.push_back("Too loud for the recorder: " + std::to_string(evidence.clipped_taps) + " of " +
                                  counted(evidence.taps.size(), "tap is", "taps are") +
                                  " cut off at the top. Turn the input level down and record again.");
    } else {
        fitness.cautions.emplace_back(
            "Parts of the recording are cut off at the top. Turn the input level down a little.");
    }
}

void noise(Fitness& fitness, const FitnessRules& rules) {
    const std::string stands = "The taps stand only " + whole(fitness.snr_db) + " dB above the background";
    if (fitness.snr_db < rules.min_snr_db) {
        fitness.reasons.push_back(stands +
                                  ". Switch off suction and handpieces, seat the pick-up firmly, and record again.");
    } else if (fitness.snr_db < rules.good_snr_db) {
        fitness.cautions.push_back(stands + ", so their ends are lost in it. A quieter room is better.");
    }
}

void band(Fitness& fitness, const FitnessEvidence& evidence, const FitnessRules& rules) {
    const Bandwidth bandwidth = measure_bandwidth(evidence.taps, evidence.rate);
    double wall = bandwidth.wall_hz.value_or(0.5 * evidence.rate.hz());
    if (evidence.recorded_rate_hz) {
        wall = std::min(wall, 0.5 * *evidence.recorded_rate_hz);
    }
    fitness.bandwidth_hz = std::min(bandwidth.taps_hz, wall);
    const std::string ends = "The recording holds nothing above " + khz(wall);
    if (wall < rules.min_wall_hz) {
        fitness.reasons.push_back(ends + ". Record at 44.1 or 48 kHz, not over a telephone or a wireless headset.");
    } else if (bandwidth.taps_hz > 0.0 && fitness.bandwidth_hz < rules.min_band_hz) {
        fitness.reasons.push_back("The taps can be heard only up to " + khz(fitness.bandwidth_hz) +
                                  ", too dull to tell contacts apart. Seat the pick-up firmly on skin over bone, and "
                                  "record again.");
    } else if (wall < rules.good_wall_hz) {
        fitness.cautions.push_back(ends + ", so contacts close together are hard to tell apart. Record at 44.1 or 48 "
                                          "kHz.");
    } else if (bandwidth.taps_hz > 0.0 && fitness.bandwidth_hz < rules.good_band_hz) {
        fitness.cautions.push_back("The taps can be heard only up to " + khz(fitness.bandwidth_hz) +
                                   ", so contacts close together are hard to tell apart. Seat the pick-up firmly.");
    }
}

void gaps(Fitness& fitness, const FitnessEvidence& evidence, const FitnessRules& rules) {
    if (evidence.dropouts == 0) {
        return;
    }
    const std::string holes = "The recording has " + counted(evidence.dropouts, "gap", "gaps");
    if (evidence.dropouts > rules.max_dropouts) {
        fitness.reasons.push_back(holes + ". Close other programs, check the cable, and record again.");
    } else {
        fitness.cautions.push_back(holes + "; no tap is timed across one. Check the cable if it happens again.");
    }
}

void dead_side(Fitness& fitness, const FitnessEvidence& evidence) {
    if (evidence.silent_channel) {
        fitness.cautions.push_back("Nothing came from the " +
                                   std::string(*evidence.silent_channel == 0 ? "left" : "right") +
                                   " pick-up, so that which side leads cannot be told. Plug it in and record again.");
    }
}

void drift(Fitness& fitness, const FitnessEvidence& evidence, const FitnessRules& rules) {
    std::vector<double> levels_db;
    for (const Tap& tap : evidence.taps) {
        if (tap.usable) {
            levels_db.push_back(tap.peak_dbfs);
        }
    }
    constexpr std::size_t looked_at = 60; // of more, so many evenly: all pairs of them are held against each other
    if (levels_db.size() > looked_at) {
        for (std::size_t i = 0; i < looked_at; ++i) {
            levels_db[i] = levels_db[i * (levels_db.size() - 1) / (looked_at - 1)];
        }
        levels_db.resize(looked_at);
    }
    const Trend trend = trend_over_taps(levels_db);
    const double in_all_db = trend.per_tap * (static_cast<double>(trend.n) - 1.0);
    if (trend.p < rules.drift_chance && std::abs(in_all_db) >= rules.drift_db) {
        fitness.cautions.push_back("The taps grow " + std::string(in_all_db > 0.0 ? "louder" : "softer") +
                                   " from the first to the last, by " + whole(std::abs(in_all_db)) +
                                   " dB. Ask for taps that are all alike.");
    }
}

void processing(Fitness& fitness, const FitnessEvidence& evidence, const FitnessRules& rules) {
    if (evidence.silent_share > rules.gated_share) {
        fitness.cautions.emplace_back(
            "Between taps the recording is exactly silent, as after a noise suppression, which can "
            "cut off the start of a tap. Switch it off if there is one.");
    }
    if (background_drop_db(evidence.taps, evidence.rate).value_or(0.0) > rules.pumping_db) {
        fitness.cautions.emplace_back("The background drops after each tap, as with an automatic level control, which "
                                      "changes the ends of taps. Switch it off if there is one.");
    }
}

} // namespace

std::optional<double> background_drop_db(std::span<const Tap> taps, SampleRate rate) {
    const auto samples = [&](double ms) { return static_cast<std::size_t>(Length::from_ms(ms, rate).samples()); };
    std::vector<double> drops;
    for (const Tap& tap : taps) {
        const std::span<const float> x(tap.excerpt.samples);
        const auto onset = static_cast<std::size_t>(std::max(0.0, tap.excerpt.onset_index));
        if (onset < samples(10.0) || onset + samples(110.0) > x.size()) {
            continue;
        }
        const double before = rms(quiet_before(x, Position(tap.excerpt.onset_index), Length::from_ms(2.0, rate)));
        const double after = rms(x.subspan(onset + samples(100.0)));
        if (before > 0.0 && after > 0.0) {
            drops.push_back(20.0 * std::log10(before / after));
        }
    }
    constexpr std::size_t least = 5;
    return drops.size() < least ? std::nullopt : std::optional(median(drops));
}

Fitness judge_fitness(const FitnessEvidence& evidence, const FitnessRules& rules) {
    Fitness fitness;
    fitness.noise_dbfs = evidence.noise.db();
    fitness.clipped_samples = evidence.clipped_samples;
    fitness.dropouts = evidence.dropouts;
    if (!nothing_there(fitness, evidence, rules)) {
        std::vector<double> peaks;
        std::ranges::transform(evidence.taps, std::back_inserter(peaks), &Tap::peak_dbfs);
        fitness.snr_db = median(peaks) - evidence.noise.db();
        const auto usable = static_cast<std::size_t>(std::ranges::count_if(evidence.taps, &Tap::usable));
        too_few(fitness, usable, rules);
        clipping(fitness, evidence, rules);
        noise(fitness, rules);
        band(fitness, evidence, rules);
        gaps(fitness, evidence, rules);
        dead_side(fitness, evidence);
        drift(fitness, evidence, rules);
        processing(fitness, evidence, rules);
    }
    fitness.usable = fitness.reasons.empty();
    return fitness;
}

} // namespace retap::dsp
