#include "dsp/base/units.hpp"

#include <doctest/doctest.h>

#include <type_traits>

using namespace retap::dsp;

namespace {
template <class A, class B>
concept Addable = requires(A a, B b) {
    a + b;
};
static_assert(!Addable<Position, Position>, "adding two positions means nothing");
static_assert(Addable<Position, Length>);
static_assert(std::is_same_v<decltype(Position(2) - Position(1)), Length>);
} // namespace

TEST_CASE("a length in samples becomes time only with a rate") {
    const SampleRate rate(48000.0);
    CHECK(Length(48.0).ms(rate) == doctest::Approx(1.0));
    CHECK(Length::from_ms(1.0, rate).samples() == doctest::Approx(48.0));
    CHECK((Position(96.0) - Position(48.0)).seconds(rate) == doctest::Approx(0.001));
    CHECK((Position(96.0) + Length(0.5)).samples() == doctest::Approx(96.5));
}

TEST_CASE("levels follow the decibel: twice the amplitude is 6.02 dB, ten times the power is 10 dB") {
    CHECK(Level::from_amplitude(2.0).db() == doctest::Approx(6.0206).epsilon(1e-5));
    CHECK(Level::from_power(10.0).db() == doctest::Approx(10.0));
    CHECK(Level(-20.0).amplitude() == doctest::Approx(0.1));
    CHECK(Level(-20.0).power() == doctest::Approx(0.01));
}

TEST_CASE("silence has a level, and it is -300 dB") {
    CHECK(Level::from_amplitude(0.0).db() == doctest::Approx(-300.0));
    CHECK(Level::from_power(-1.0).db() == doctest::Approx(-300.0));
}
