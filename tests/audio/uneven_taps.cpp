// A patient whose taps come in two strengths some 15 dB apart, three of each: every one of them is a tap.
#include "audio/inspect_file.hpp"
#include "known_take.hpp"

#include <doctest/doctest.h>

using namespace retap::audio;
using namespace retap::test;

TEST_CASE("loud and soft taps of one patient are all taps") {
    CHECK(inspect_sound(known_take({.patient = 11}).sound, "uneven").taps.size() == 6);
}

TEST_CASE("loud and soft taps heard by two pick-ups are all taps") {
    CHECK(inspect_sound(known_take({.channels = 2, .patient = 11}).sound, "uneven").taps.size() == 6);
}
