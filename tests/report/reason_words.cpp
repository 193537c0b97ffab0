#include "report/reason_words.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <set>
#include <string>
#include <string_view>
#include <vector>

using namespace retap;
using report::word;

TEST_CASE("every reason why a sound is no tap, and why a tap is not used, has words of its own") {
    std::set<std::string_view> told;
    for (int reason = 0; reason <= static_cast<int>(dsp::NoTap::strangers); ++reason) {
        told.insert(word(static_cast<dsp::NoTap>(reason)));
    }
    CHECK(told.size() == static_cast<std::size_t>(dsp::NoTap::strangers) + 1);
    for (int reason = 0; reason <= static_cast<int>(dsp::Unusable::too_soft); ++reason) {
        told.insert(word(static_cast<dsp::Unusable>(reason)));
    }
    CHECK(told.size() ==
          static_cast<std::size_t>(dsp::NoTap::strangers) + static_cast<std::size_t>(dsp::Unusable::too_soft) + 2);
}

TEST_CASE("the words tell the rule that spoke") {
    CHECK(word(dsp::NoTap::off_beat) == "it is off the beat of the run");
    CHECK(word(dsp::NoTap::strangers) == "no three of these sounds are alike and keep a beat, as taps do");
    CHECK(report::words(std::vector{dsp::Unusable::clipped, dsp::Unusable::broken}) ==
          std::vector<std::string>{"clipped: its loudest part was cut off",
                                   "samples are missing in it, so it cannot be timed"});
}
