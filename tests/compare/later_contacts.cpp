#include "compare/later_contacts.hpp"
#include "skipped.hpp"

#include "dsp/real_strikes.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

using namespace retap;
using compare::later_contacts;
using compare::LaterContacts;
using compare::rank_sum_p;

namespace {

/// A rim click in layers that sound unlike each other (Debian package hydrogen-drumkits); empty when not installed.
std::vector<std::vector<float>> layers() {
    std::vector<std::vector<float>> strikes;
    for (const char* layer : {"Stick-0", "Stick-1", "Stick-2", "Stick-3"}) {
        std::vector<float> strike =
            test::recorded_strike("hydrogen/data/drumkits/ForzeeStereo/" + std::string(layer) + ".wav", 0);
        if (strike.empty()) {
            return {};
        }
        strikes.push_back(std::move(strike));
    }
    return strikes;
}

LaterContacts ripple(const test::StrikeTake& before, const test::StrikeTake& after) {
    std::vector<dsp::TapSound> taps = before.taps();
    std::vector<std::size_t> side(taps.size(), 0);
    for (const dsp::TapSound& tap : after.taps()) {
        taps.push_back(tap);
        side.push_back(1);
    }
    return compare::later_ripple(dsp::spectral_ripples(taps, dsp::SampleRate(48000.0)), side);
}

} // namespace

TEST_CASE("the rank sum of three against five, all apart, has 2 of the 56 ways") {
    // Hollander M, Wolfe DA: Nonparametric Statistical Methods, table of the rank sum (from memory): 1/56 a side.
    CHECK(rank_sum_p(std::array{1.0, 2.0, 3.0}, std::array{4.0, 5.0, 6.0, 7.0, 8.0}) == doctest::Approx(2.0 / 56.0));
    CHECK(rank_sum_p(std::array{9.0, 8.5, 8.2}, std::array{4.0, 5.0, 6.0, 7.0, 8.0}) == doctest::Approx(2.0 / 56.0));
}

TEST_CASE("the exact p of every order of small groups is the share of orders that lie as far out") {
    const std::array values{0.3, 0.3, 0.7, 1.1, 2.0, 2.0, 2.4}; // with ties
    for (unsigned chosen = 1; chosen < (1U << values.size()) - 1; ++chosen) {
        const auto sides = [&](unsigned mask) {
            std::array<std::vector<double>, 2> groups;
            for (std::size_t i = 0; i < values.size(); ++i) {
                groups.at((mask >> i) & 1U).push_back(values.at(i));
            }
            return groups;
        };
        const auto [out, in] = sides(chosen);
        const auto sum = [&](unsigned mask) { // of middle ranks
            constexpr std::array ranks{1.5, 1.5, 3.0, 4.0, 5.5, 5.5, 7.0};
            double total = 0.0;
            for (std::size_t i = 0; i < values.size(); ++i) {
                total += ((mask >> i) & 1U) != 0 ? ranks.at(i) : 0.0;
            }
            return total;
        };
        const double expected = static_cast<double>(in.size()) * 4.0;
        double as_far = 0.0;
        double all = 0.0;
        for (unsigned mask = 0; mask < (1U << values.size()); ++mask) {
            if (sides(mask)[1].size() == in.size()) {
                all += 1.0;
                as_far += std::abs(sum(mask) - expected) >= std::abs(sum(chosen) - expected) - 1e-9 ? 1.0 : 0.0;
            }
        }
        CHECK(rank_sum_p(in, out) == doctest::Approx(as_far / all));
    }
    CHECK(rank_sum_p({}, values) == 1.0);
}

TEST_CASE("a spread that is longer in all taps speaks, both ways alike") {
    const std::array none{0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
    const std::array later{1.0, 1.1, 0.9, 1.0, 1.2, 1.0, 0.8, 1.0};
    const LaterContacts came = later_contacts(none, later);
    CHECK(came.before_ms == 0.0);
    CHECK(came.after_ms == 1.0);
    CHECK(came.p == doctest::Approx(2.0 / 12870.0)); // of the ways to choose 8 of 16
    CHECK(came.weight == doctest::Approx(std::log(0.05 * 12870.0 / 2.0)));
    CHECK(later_contacts(later, none).weight == came.weight);
}

TEST_CASE("a spread that is longer by less than a landing wanders, or in some taps, says nothing") {
    const std::array a{0.30, 0.31, 0.32, 0.33, 0.34, 0.35};
    const std::array b{0.60, 0.61, 0.62, 0.63, 0.64, 0.65};
    const std::array mixed{0.0, 1.0, 0.0, 1.0, 0.3, 1.0};
    CHECK(later_contacts(a, b).weight == 0.0);
    CHECK(later_contacts(a, mixed).weight == 0.0);
    CHECK(later_contacts({}, a).weight == 0.0);
}

TEST_CASE("weak contacts, which one seat hears and the next does not, do not count for the spread") {
    const std::array contacts{dsp::Contact{.at_ms = 0.0, .strength = 0.2}, dsp::Contact{.at_ms = 0.5, .strength = 1.0},
                              dsp::Contact{.at_ms = 1.5, .strength = 0.6}, dsp::Contact{.at_ms = 4.8, .strength = 0.3}};
    CHECK(compare::strong_spread_ms(contacts) == doctest::Approx(1.0));
    CHECK(compare::strong_spread_ms(std::span(contacts).first(2)) == 0.0);
    CHECK(compare::strong_spread_ms({}) == 0.0);
}

TEST_CASE("a second strike is heard in taps that sound unlike each other, and so is one that is gone") {
    const auto strikes = layers();
    if (strikes.empty()) {
        retap::test::skipped("install the package hydrogen-drumkits");
        return;
    }
    const test::StrikeTake single = test::lay_down(strikes, {}, 1);
    const test::StrikeTake again = test::lay_down(strikes, {}, 2);
    CHECK(ripple(single, again).weight == 0.0);
    for (const double gap_ms : {0.5, 1.2, 3.0}) {
        CAPTURE(gap_ms);
        const test::StrikeTake twice = test::lay_down(strikes, {.gap_ms = gap_ms, .ratio = 0.5, .gap_jitter = 0.03}, 3);
        const LaterContacts came = ripple(single, twice);
        CHECK(came.weight > 0.5);
        CHECK(came.before_ms == 0.0);
        CHECK(came.after_ms == doctest::Approx(gap_ms).epsilon(0.15));
        const LaterContacts gone = ripple(twice, single);
        CHECK(gone.weight == came.weight);
        CHECK(gone.before_ms == came.after_ms);
        CHECK(gone.after_ms == 0.0);
    }
}
