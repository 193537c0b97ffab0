#include "strike_library.hpp"
#include "skipped.hpp"

#include "error.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

using namespace retap;

TEST_CASE("a missing sample package is named, with how to install it") {
    try {
        (void)tools::load_strikes(std::filesystem::temp_directory_path() / "no-such-share");
        FAIL("nothing was thrown");
    } catch (const InputError& e) {
        CHECK(std::string(e.what()).find("apt-get install hydrogen-drumkits") != std::string::npos);
    }
}

TEST_CASE("Debian's recorded impacts load as short sounds that begin at their onset") {
    // hydrogen-drumkits, hydrogen-data and sonic-pi-samples of Debian 12; real sticks, rims, wood and fingertips.
    if (!std::filesystem::exists("/usr/share/hydrogen/data/drumkits/ForzeeStereo") ||
        !std::filesystem::exists("/usr/share/sonic-pi/samples")) {
        retap::test::skipped("install hydrogen-drumkits, hydrogen-data and sonic-pi-samples");
        return;
    }
    const auto strikes = tools::load_strikes();
    CHECK(strikes.size() >= 15);
    for (const auto& strike : strikes) {
        CAPTURE(strike.name);
        const auto& s = strike.sound.samples;
        CHECK(strike.sound.rate_hz == 48000.0);
        CHECK(s.size() > 480);
        CHECK(s.size() <= 2880);
        double peak = 0.0;
        for (const double v : s) {
            peak = std::max(peak, std::abs(v));
        }
        CHECK(peak > 0.4);
        CHECK(peak <= 1.0);
        const auto loud = std::find_if(s.begin(), s.end(), [](double v) { return std::abs(v) > 0.005; });
        CHECK(loud - s.begin() < 5);      // begins at once
        CHECK(std::abs(s.back()) < 1e-3); // and ends softly
    }
}
