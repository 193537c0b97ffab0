// The program on takes of real recorded strikes whose contacts are known, end to end.
#include "audio/sound_writer.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/filters/fractional_delay.hpp"
#include "dsp/real_strikes.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "run_program.hpp"
#include "skipped.hpp"

#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <string>

using namespace retap;
using namespace retap::test;

namespace {

constexpr const char* kits = "hydrogen/data/drumkits/";

// Single strokes of sticks, on each other, on rims and as claves: Debian package hydrogen-drumkits. The last three had
// no part in making the method.
constexpr std::array<const char*, 5> strokes{"ForzeeStereo/Stick-1.wav", "ForzeeStereo/Stick-3.wav",
                                             "Millo_MultiLayered2/rim_02.flac", "Gimme A Hand 1.0/Clave-Med.wav",
                                             "The Black Pearl 1.0/PearlSideStick-Hard.wav"};

std::vector<float> stroke(const char* file) {
    return recorded_strike(std::string(kits) + file, 0);
}

bool kits_missing() {
    const bool missing = stroke(strokes.front()).empty();
    if (missing) {
        retap::test::skipped("install the package hydrogen-drumkits");
    }
    return missing;
}

struct Laid {
    std::vector<float> samples{};
    std::vector<double> gaps_ms{};
};

struct Plan {
    double gap_ms = 0.0; ///< to a second stroke; 0: none
    double ratio = 1.0;  ///< of the second to the first
    double over_noise_db = 40.0;
    unsigned seed = 1;
};

// Eight taps half a second apart, at any place between two samples; gaps scatter by 3 % from tap to tap, levels by 1
// dB.
Laid lay(const std::vector<float>& sound, const Plan& plan) {
    constexpr std::size_t every = 24000;
    constexpr std::size_t taps = 8;
    std::mt19937 engine(plan.seed);
    std::uniform_real_distribution<double> part(0.0, 1.0);
    std::normal_distribution<double> normal(0.0, 1.0);
    Laid laid{.samples = white_noise((taps + 1) * every, 0.3 * std::pow(10.0, -plan.over_noise_db / 20.0), plan.seed)};
    for (std::size_t t = 0; t < taps; ++t) {
        const double level = 0.3 * std::pow(10.0, normal(engine) / 20.0);
        const double at = part(engine);
        const double gap_ms = plan.gap_ms * (1.0 + 0.03 * normal(engine));
        const auto add_stroke = [&](double later_ms, double size) {
            std::vector<float> padded(sound.size() + 480, 0.0F);
            std::ranges::copy(sound, padded.begin() + 48);
            padded = dsp::delayed(padded, dsp::Length(at + 48.0 * later_ms));
            for (std::size_t i = 0; i < padded.size(); ++i) {
                laid.samples[(t + 1) * every - 4800 + i] += static_cast<float>(size * static_cast<double>(padded[i]));
            }
        };
        add_stroke(0.0, level);
        if (plan.gap_ms > 0.0) {
            add_stroke(gap_ms, level * plan.ratio);
        }
        laid.gaps_ms.push_back(gap_ms);
    }
    return laid;
}

report::Json inspected(const std::vector<float>& samples) {
    const TempFolder folder;
    audio::write_sound(folder / "take.wav", {.sample_rate_hz = 48000.0, .channels = 1, .interleaved = samples},
                       audio::SoundFormat::wav_24);
    const Outcome outcome = run_retap(folder.path(), {"inspect", "take.wav", "--json"});
    REQUIRE(outcome.status == 0);
    return report::Json::parse(outcome.out);
}

} // namespace

TEST_CASE("inspect reports two recorded strikes 0.3 to 5 ms apart with their gap, within 0.05 ms in the median") {
    if (kits_missing()) {
        return;
    }
    unsigned seed = 0;
    for (const char* file : strokes) {
        const std::vector<float> sound = stroke(file);
        for (const double gap_ms : {0.3, 0.6, 1.2, 2.5, 5.0}) {
            const double ratio = ++seed % 2 == 0 ? 0.5 : 1.0;
            CAPTURE(file);
            CAPTURE(gap_ms);
            CAPTURE(ratio);
            const Laid laid = lay(sound, {.gap_ms = gap_ms, .ratio = ratio, .seed = seed});
            const auto json = inspected(laid.samples);
            REQUIRE(json["taps"].size() == laid.gaps_ms.size());
            std::vector<double> errors;
            for (std::size_t t = 0; t < laid.gaps_ms.size(); ++t) {
                const auto& tap = json["taps"][t];
                errors.push_back(std::abs(tap["onset_spread_ms"].get<double>() - laid.gaps_ms[t]));
                CHECK(tap["contacts"].back()["at_ms"] == tap["onset_spread_ms"]);
            }
            CHECK(dsp::median(errors) < 0.05);
            CHECK(json["signature"]["onset_spread"]["middle"].get<double>() ==
                  doctest::Approx(dsp::median(laid.gaps_ms)).epsilon(0.05 / gap_ms));
        }
    }
}

TEST_CASE("inspect reports a single recorded strike as one contact, in quiet and in noise") {
    if (kits_missing()) {
        return;
    }
    unsigned seed = 100;
    for (const char* file : strokes) {
        for (const double over_noise_db : {30.0, 50.0}) {
            CAPTURE(file);
            CAPTURE(over_noise_db);
            const auto json = inspected(lay(stroke(file), {.over_noise_db = over_noise_db, .seed = ++seed}).samples);
            REQUIRE(json["taps"].size() == 8);
            for (const auto& tap : json["taps"]) {
                CHECK(tap["contacts"].size() == 1);
                CHECK(tap["onset_spread_ms"] == 0.0);
                CHECK(tap["resolution_ms"].get<double>() < 0.3);
            }
        }
    }
}

TEST_CASE("inspect says in words how many contacts it tells apart, and where none could be resolved") {
    if (kits_missing()) {
        return;
    }
    const TempFolder folder;
    const Laid laid = lay(stroke(strokes.front()), {.seed = 200});
    audio::write_sound(folder / "take.wav", {.sample_rate_hz = 48000.0, .channels = 1, .interleaved = laid.samples},
                       audio::SoundFormat::wav_24);
    const Outcome one = run_retap(folder.path(), {"inspect", "take.wav"});
    CHECK(one.out.find("1        one") != std::string::npos); // under "contacts  spread ms"
    CHECK(one.out.find("  Contacts nearer than 0.2") != std::string::npos);
    const Outcome clipped = run_retap(test::source_dir() + "/recordings", {"inspect", "clipped.flac"});
    CHECK(clipped.out.find("not resolved") != std::string::npos);
}
