#include "bite/clinic.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

using namespace retap::bite;

namespace {
constexpr double clinic_rate = 48000.0;
constexpr std::size_t three_seconds = 144000;
using Kind = ClinicSoundKind;
constexpr Kind kinds[] = {Kind::suction, Kind::handpiece, Kind::hum, Kind::clunks, Kind::speech};

std::vector<double> sound(Kind kind, std::uint64_t seed = 1) {
    return make_clinic_sound({.kind = kind, .level_db = 0.0, .seed = seed}, three_seconds, clinic_rate);
}

double peak(std::span<const double> x) {
    double p = 0.0;
    for (const double v : x) {
        p = std::max(p, std::abs(v));
    }
    return p;
}
} // namespace

TEST_CASE("every clinic sound has its level, its time and its seed") {
    for (const Kind kind : kinds) {
        const ClinicSound asked{.kind = kind, .level_db = -20.0, .from_s = 0.5, .to_s = 2.5, .seed = 9};
        const auto out = make_clinic_sound(asked, three_seconds, clinic_rate);
        CAPTURE(static_cast<int>(kind));
        CHECK(peak(std::span(out).first(24000)) == 0.0);
        CHECK(peak(std::span(out).last(24000)) == 0.0);
        const auto middle = std::span(out).subspan(24000, 96000);
        // 40 ms ramps at both ends take a few hundredths of the RMS.
        CHECK((kind == Kind::clunks ? peak(middle) : rms(middle)) == doctest::Approx(0.1).epsilon(0.05));
        CHECK(make_clinic_sound(asked, three_seconds, clinic_rate) == out);
        CHECK(sound(kind, 9) != sound(kind, 10));
    }
}

TEST_CASE("clinic sounds can be made at any clinic_rate and any length, and never break") {
    for (const Kind kind : kinds) {
        for (const double hz : {8000.0, 44100.0, 192000.0}) {
            for (const std::size_t length : {std::size_t{0}, std::size_t{1}, std::size_t{10}, std::size_t{20000}}) {
                const auto out = make_clinic_sound({.kind = kind, .level_db = 0.0}, length, hz);
                CHECK(out.size() == length);
                CHECK(std::all_of(out.begin(), out.end(), [](double s) { return std::isfinite(s); }));
            }
        }
    }
    CHECK(peak(make_clinic_sound({.from_s = 5.0}, 48000, clinic_rate)) == 0.0); // begins after the end
}

TEST_CASE("a handpiece whines near 5 kHz, hum sits on the mains and nowhere else, suction is broad") {
    const auto whine = sound(Kind::handpiece);
    CHECK(band_db(whine, 4000.0, 6600.0, clinic_rate) > band_db(whine, 1000.0, 3000.0, clinic_rate) + 10.0);
    const auto hum = sound(Kind::hum);
    CHECK(band_db(hum, 40.0, 400.0, clinic_rate) > band_db(hum, 2000.0, 8000.0, clinic_rate) + 40.0);
    const double at_50 = std::abs(spectrum_at(hum, 50.0, clinic_rate));
    const double at_60 = std::abs(spectrum_at(hum, 60.0, clinic_rate));
    CHECK(std::max(at_50, at_60) > 100.0 * std::min(at_50, at_60));
    const auto suction = sound(Kind::suction);
    CHECK(std::abs(band_db(suction, 500.0, 1500.0, clinic_rate) - band_db(suction, 2000.0, 6000.0, clinic_rate)) <
          15.0);
}

TEST_CASE("speech comes in syllables and keeps below the highest bands") {
    const auto out = sound(Kind::speech);
    CHECK(band_db(out, 150.0, 3500.0, clinic_rate) > band_db(out, 10000.0, 16000.0, clinic_rate) + 15.0);
    // Levels over 20 ms rise and fall: the louder fifth is at least 10 dB above the quieter fifth.
    std::vector<double> levels;
    for (std::size_t n = 0; n + 960 <= out.size(); n += 960) {
        levels.push_back(rms(std::span(out).subspan(n, 960)));
    }
    std::sort(levels.begin(), levels.end());
    CHECK(levels[levels.size() * 4 / 5] > 3.2 * levels[levels.size() / 5]);
}

TEST_CASE("clunks are few, sudden and ring for tens of milliseconds") {
    const auto out = sound(Kind::clunks);
    std::size_t loud = 0;
    for (std::size_t n = 0; n + 480 <= out.size(); n += 480) {
        loud += rms(std::span(out).subspan(n, 480)) > 0.05 ? 1U : 0U;
    }
    CHECK(loud > 3);   // 10 ms each
    CHECK(loud < 150); // of 300
}
