#include "validate/echoes.hpp"

#include "recorded_strikes.hpp"
#include "validate/section.hpp"

#include <doctest/doctest.h>

namespace {

using namespace retap::validate;
using retap::compare::Verdict;

TEST_CASE("echoes are heard as four pairs, and an echo of one strike is told from the strike alone") {
    if (!retap::test::strikes_are_here()) {
        return;
    }
    const auto kits = retap::tools::load_kits();
    const auto results = hear_echoes(11, kits.at(1), {});
    REQUIRE(results.size() == echo_pairs.size());
    for (const EchoResult& result : results) {
        CAPTURE(echo_pairs.at(result.pair).name);
        CHECK(result.gap_ms >= 0.3);
        CHECK(result.gap_ms <= 5.0);
        const bool same = echo_pairs.at(result.pair).before_has_echo == echo_pairs.at(result.pair).after_has_echo;
        CHECK(result.verdict != (same ? Verdict::different : Verdict::alike));
    }
    CHECK(hear_echoes(11, kits.at(1), {}).back().likeness == results.back().likeness);
}

TEST_CASE("the section counts right, opposite and all") {
    std::vector<EchoResult> echoes;
    for (const Verdict verdict : {Verdict::different, Verdict::different, Verdict::alike, Verdict::unclear}) {
        echoes.push_back({.kit = "clave", .pair = 2, .verdict = verdict});
    }
    const Section section = echoes_section(echoes);
    CHECK(section.text.find("2 / 1 / 4") != std::string::npos);
    CHECK(section.text.find("0 / 0 / 0") != std::string::npos);
    CHECK(section.numbers.front().content.find("clave,0,0,0,\"alone, echo\"") != std::string::npos);
}

} // namespace
