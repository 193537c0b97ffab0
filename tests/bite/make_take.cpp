#include "bite/make_take.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace retap::bite;

namespace {

constexpr double quiet_db = 90.0; // peak over noise, where the noise must not matter

std::size_t sample_at(const Take& take, double s) {
    return static_cast<std::size_t>(s * take.sample_rate_hz);
}

// From the first to the last sample above a tenth of the peak; median over the taps after the first two, in which
// people settle.
double duration_ms(const Take& take) {
    std::vector<double> durations;
    for (std::size_t t = 2; t < take.taps.size(); ++t) {
        const auto begin =
            take.channels[0].begin() + static_cast<std::ptrdiff_t>(sample_at(take, take.taps[t].onset_s));
        const std::vector<float> tap(begin, begin + 7200);
        float peak = 0.0F;
        for (const float s : tap) {
            peak = std::max(peak, std::abs(s));
        }
        const auto loud = [peak](float s) { return std::abs(s) > 0.1F * peak; };
        const auto first = std::find_if(tap.begin(), tap.end(), loud);
        const auto last = std::find_if(tap.rbegin(), tap.rend(), loud).base();
        durations.push_back(static_cast<double>(last - first) / 48.0);
    }
    return median(durations);
}

std::vector<double> first_meetings_s(const TapTruth& tap) {
    std::vector<bool> seen(pair_count, false);
    std::vector<double> at;
    for (const auto& c : tap.contacts) {
        if (!seen.at(c.pair)) {
            at.push_back(c.at_s - tap.onset_s);
        }
        seen.at(c.pair) = true;
    }
    return at;
}

} // namespace

TEST_CASE("a balanced bite lasts 10 to 30 ms and most of its contacts land within half a millisecond") {
    std::vector<double> durations;
    std::vector<double> spans;
    for (std::uint64_t seed = 1; seed <= 16; ++seed) {
        const Take take = make_take({.patient = seed, .taps = 6, .peak_over_noise_db = quiet_db});
        durations.push_back(duration_ms(take));
        for (std::size_t t = 2; t < take.taps.size(); ++t) {
            auto at = first_meetings_s(take.taps[t]);
            std::sort(at.begin(), at.end());
            spans.push_back(1e3 * at[at.size() * 3 / 4]);
        }
    }
    CHECK(median(durations) > 10.0);
    CHECK(median(durations) < 30.0);
    CHECK(median(spans) < 0.5);
}

TEST_CASE("the sound of a tap begins when its first contact arrives") {
    // Nothing may be heard before: the noise is 90 dB down, the filters' skirts less than that a few samples before.
    for (const std::uint64_t seed : {3U, 8U, 21U}) {
        const Take take = make_take({.patient = seed, .peak_over_noise_db = quiet_db});
        for (const TapTruth& tap : take.taps) {
            const std::size_t at = sample_at(take, tap.arrival_s[0]);
            double before = 0.0;
            for (std::size_t n = at - 480; n + 24 < at; ++n) {
                before = std::max(before, std::abs(static_cast<double>(take.channels[0][n])));
            }
            double after = 0.0;
            for (std::size_t n = at; n < at + 960; ++n) {
                after = std::max(after, std::abs(static_cast<double>(take.channels[0][n])));
            }
            CHECK(tap.arrival_s[0] > tap.onset_s);
            CHECK(20.0 * std::log10(before / after) < -60.0);
        }
    }
}

TEST_CASE("a scenario gives the same take bit for bit; seeds of take and seat change what they should") {
    const Scenario base{.patient = 12, .taps = 3};
    const Take a = make_take(base);
    CHECK(a.channels == make_take(base).channels);
    Scenario other_seat = base;
    other_seat.seat = 4;
    const Take b = make_take(other_seat);
    CHECK(b.channels != a.channels);
    CHECK(b.taps[1].onset_s == a.taps[1].onset_s); // the person did not tap otherwise
    Scenario other_take = base;
    other_take.take = 2;
    CHECK(make_take(other_take).taps[1].onset_s != a.taps[1].onset_s);
}

TEST_CASE("what happened does not depend on the rate it was recorded at") {
    const Take reference = make_take({.patient = 7, .taps = 2});
    for (const double rate : {8000.0, 22050.0, 44100.0, 96000.0, 192000.0}) {
        const Take take = make_take({.patient = 7, .taps = 2, .sample_rate_hz = rate});
        CAPTURE(rate);
        REQUIRE(take.taps.size() == 2);
        CHECK(take.taps[1].onset_s == doctest::Approx(reference.taps[1].onset_s).epsilon(1e-7));
        const double seconds = static_cast<double>(take.channels[0].size()) / rate;
        CHECK(seconds == doctest::Approx(static_cast<double>(reference.channels[0].size()) / 48000.0).epsilon(1e-3));
    }
}

TEST_CASE("levels are kept: the usual peak, and the noise so far below it") {
    std::vector<double> peaks;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const Take take = make_take({.patient = seed, .usual_peak_dbfs = -10.0, .peak_over_noise_db = 40.0});
        double peak = 0.0;
        for (const float s : take.channels[0]) {
            peak = std::max(peak, std::abs(static_cast<double>(s)));
        }
        peaks.push_back(20.0 * std::log10(peak));
        const std::vector<double> lead(take.channels[0].begin(), take.channels[0].begin() + 14400);
        CHECK(20.0 * std::log10(rms(lead)) == doctest::Approx(-50.0).epsilon(0.03));
    }
    CHECK(median(peaks) == doctest::Approx(-9.0).epsilon(0.35)); // the loudest of eight taps, each of its own speed
}

TEST_CASE("without taps there is the room alone, and without noise silence") {
    const Take take = make_take({.patient = 1, .taps = 0, .peak_over_noise_db = 300.0});
    CHECK(take.taps.empty());
    CHECK(std::all_of(take.channels[0].begin(), take.channels[0].end(), [](float s) { return std::abs(s) < 1e-12F; }));
}

TEST_CASE("with two pick-ups a high tooth is heard first on its own side") {
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        for (const std::size_t pair : {std::size_t{1}, std::size_t{12}}) {
            Scenario s{.patient = seed, .taps = 3, .pickups = Pickups::left_and_right};
            s.change.heights = {{.pair = pair, .height_um = 150.0}};
            const Take take = make_take(s);
            REQUIRE(take.channels.size() == 2);
            for (const TapTruth& tap : take.taps) {
                const double left_lead_s = tap.arrival_s[1] - tap.arrival_s[0];
                CHECK((pair == 12 ? left_lead_s : -left_lead_s) > 0.02e-3);
                CHECK(std::abs(left_lead_s) < 0.5e-3); // the head is no wider (see pickup.cpp)
            }
        }
    }
}

TEST_CASE("closing speed and scatter can be set: without scatter every tap is the same, and faster is sooner") {
    Scenario s{.patient = 5, .taps = 3, .closing_speed_m_per_s = 0.05, .tap_scatter = 0.0};
    s.change.heights = {{.pair = 1, .height_um = 50.0}};
    const Take slow = make_take(s);
    s.closing_speed_m_per_s = 0.15;
    const Take fast = make_take(s);
    const auto second_ms = [](const TapTruth& tap) {
        auto at = first_meetings_s(tap);
        std::sort(at.begin(), at.end());
        return 1e3 * at.at(1);
    };
    CHECK(second_ms(slow.taps[0]) == doctest::Approx(second_ms(slow.taps[2])));
    CHECK(second_ms(slow.taps[0]) > 2.0 * second_ms(fast.taps[0]));
}

TEST_CASE("a take is made from a patient given as well as from a seed") {
    const Scenario s{.patient = 5, .taps = 2};
    CHECK(make_take(draw_patient(5), s).channels == make_take(s).channels);
}

TEST_CASE("recorded strikes share every contact with the modal sound, and nothing of its tone") {
    Stretch strike{.rate_hz = 48000.0, .start_s = 0.0, .samples = {}};
    for (int n = 0; n < 480; ++n) {
        strike.samples.push_back(std::exp(-n / 60.0) * std::sin(2.0 * std::numbers::pi * 3000.0 * n / 48000.0));
    }
    const std::vector<Stretch> strikes{strike};
    Scenario s{.patient = 5, .taps = 3};
    const Take modal = make_take(s);
    s.strikes = strikes;
    const Take struck = make_take(s);
    REQUIRE(struck.taps.size() == 3);
    for (std::size_t t = 0; t < 3; ++t) {
        REQUIRE(struck.taps[t].contacts.size() == modal.taps[t].contacts.size());
        CHECK(struck.taps[t].contacts.back().at_s == modal.taps[t].contacts.back().at_s);
    }
    CHECK(struck.channels != modal.channels);
}

TEST_CASE("clinic sounds and the room are added at the level asked for and move no tap") {
    const Scenario plain{.patient = 5, .taps = 3, .peak_over_noise_db = quiet_db};
    Scenario noisy = plain;
    noisy.clinic = {{.kind = ClinicSoundKind::suction, .level_db = -30.0}};
    noisy.room = Room{};
    const Take take = make_take(noisy);
    CHECK(take.taps[2].onset_s == make_take(plain).taps[2].onset_s);
    const std::vector<double> lead(take.channels[0].begin() + 2400, take.channels[0].begin() + 14400);
    CHECK(20.0 * std::log10(rms(lead)) == doctest::Approx(-40.0).epsilon(0.05)); // 30 dB below a peak of -10 dBFS
}
