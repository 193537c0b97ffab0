#include "compare/verdict_words.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace retap::compare;

namespace {

bool some_say(const std::vector<std::string>& reasons, const std::string& word) {
    return std::ranges::any_of(reasons, [&](const std::string& r) { return r.find(word) != std::string::npos; });
}

} // namespace

TEST_CASE("an unclear verdict asks for what is missing, and for nothing that was given") {
    const auto asks_for = [](const Grounds& grounds, const std::string& word) {
        return some_say(verdict_reasons(Verdict::unclear, Decision{}, grounds), word);
    };
    CHECK(asks_for({.taps = 8, .snr_db = 40.0}, "More taps"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0}, "A second take"));
    CHECK_FALSE(asks_for({.taps = 8, .snr_db = 40.0}, "quieter room"));
    CHECK_FALSE(asks_for({.taps = 12, .snr_db = 40.0}, "More taps"));
    CHECK_FALSE(asks_for({.taps = 8, .snr_db = 40.0, .repeated = true}, "A second take"));
    CHECK(asks_for({.taps = 8, .snr_db = 30.0}, "quieter room"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .deep_enough = false}, "quieter room"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .deep_enough = false}, "lost in the noise"));
    CHECK(asks_for({.taps = 8, .snr_db = 40.0, .dull = true}, "too dull"));
}

TEST_CASE("a verdict names the kinds of evidence that spoke, and no other") {
    Decision decision;
    decision.finding = Finding::beyond;
    decision.evidence = {{.kind = EvidenceKind::later_contacts, .weight = 5.0, .spoke = true},
                         {.kind = EvidenceKind::level, .weight = 0.2, .spoke = false}};
    decision.contacts = {.before_ms = 0.0, .after_ms = 1.2, .p = 0.001, .weight = 5.0};
    decision.level = LevelEvidence{.before_db = -20.0, .after_db = -25.0, .weight = 0.2};
    const auto reasons = verdict_reasons(Verdict::different, decision, {.taps = 8});
    CHECK(some_say(reasons, "A later contact is heard 1.20 ms after the first"));
    CHECK_FALSE(some_say(reasons, "softer"));
    CHECK(some_say(reasons, "look at film and marks"));
}

TEST_CASE("softer taps are told as softer taps, with what to do, and never as a noisy room") {
    const auto reasons = softer_reasons({.before_db = -20.0, .after_db = -32.4, .weight = 1.7});
    CHECK(some_say(reasons, "12 dB softer than before at the same setting"));
    CHECK(some_say(reasons, "only one tooth meets"));
    CHECK(some_say(reasons, "record again"));
    CHECK_FALSE(some_say(reasons, "suction"));
}
