#include "report/wording.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace retap::report;

TEST_CASE("Numbers have a true minus sign and never read minus zero") {
    CHECK(number(1.005, 1) == "1.0");
    CHECK(number(-1.25, 1) == "\u22121.2"); // 1.25 is exact in binary: halves go to even
    CHECK(number(-0.004, 2) == "0.00");
    CHECK(number(std::numeric_limits<double>::quiet_NaN(), 2) == "\u2013");
    CHECK(number(std::numeric_limits<double>::infinity(), 2) == "\u2013");
    CHECK(number(1e300, 0).size() == 301);
}

TEST_CASE("Quantities carry their unit and as many digits as mean something") {
    CHECK(quantity(0.1234, "ms") == "0.12\u00A0ms");
    CHECK(quantity(12.34, "ms") == "12.3\u00A0ms");
    CHECK(quantity(123.4, "ms") == "123\u00A0ms");
    CHECK(quantity(-12.06, "dBFS") == "\u221212.1\u00A0dBFS");
    CHECK(quantity(2412.0, "Hz") == "2.41\u00A0kHz");
    CHECK(quantity(999.4, "Hz") == "999\u00A0Hz");
    CHECK(quantity(0.5, "") == "0.50");
}

TEST_CASE("Differences show their sign, nothing has none") {
    CHECK(signed_quantity(0.03, "ms") == "+0.03\u00A0ms");
    CHECK(signed_quantity(-332.0, "Hz") == "\u2212332\u00A0Hz");
    CHECK(signed_quantity(0.001, "ms") == "0.00\u00A0ms");
}

TEST_CASE("Levels differ by decibels, everything else by its own unit") {
    CHECK(difference_unit("dBFS") == "dB");
    CHECK(difference_unit("ms") == "ms");
}

TEST_CASE("Beyond the range of 16 bits the noise is not given a figure") {
    CHECK(margin_over_noise(42.13) == "42\u00A0dB");
    CHECK(margin_over_noise(96.0) == "96\u00A0dB");
    CHECK(margin_over_noise(292.1) == "more than 96\u00A0dB");
    CHECK(margin_over_noise(std::numeric_limits<double>::infinity()) == "more than 96\u00A0dB");
    CHECK(noise_level(-50.02) == "\u221250.0\u00A0dBFS");
    CHECK(noise_level(-300.0) == "under \u221296\u00A0dBFS");
}

TEST_CASE("A count of one is singular") {
    CHECK(count(1, "tap", "taps") == "1\u00A0tap");
    CHECK(count(0, "tap", "taps") == "0\u00A0taps");
}

TEST_CASE("Measures have names for people, and unknown ones stay readable") {
    CHECK(measure_label("onset_spread") == "Spread of contacts");
    CHECK(measure_label("some_new_thing") == "Some new thing");
    CHECK(measure_label("").empty());
    CHECK(measure_meaning("landing").ends_with("about 1 when nothing has changed."));
    CHECK(measure_meaning("duration").empty());
}

TEST_CASE("Only the last part of a path is shown") {
    CHECK(file_label("/home/someone/visits/before.wav") == "before.wav");
    CHECK(file_label("C:\\visits\\before.wav") == "before.wav");
    CHECK(file_label("before.wav") == "before.wav");
    CHECK(file_label("/") == "/");
}
