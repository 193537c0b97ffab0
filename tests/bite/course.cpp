#include "bite/course.hpp"

#include "bite/lesson_bite.hpp"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <set>
#include <string>

using namespace retap::bite;

namespace {

LessonBite few_taps(LessonBite bite) {
    bite.taps = 3;
    return bite;
}

TruthSummary truth_of(const LessonBite& bite) {
    return summarise(make_lesson_take(few_taps(bite)).taps);
}

double after_ms(const TruthSummary& truth, std::size_t pair) {
    const auto found = std::find_if(truth.pairs.begin(), truth.pairs.end(),
                                    [pair](const PairTiming& timing) { return timing.pair == pair; });
    REQUIRE(found != truth.pairs.end());
    return found->after_ms;
}

} // namespace

TEST_CASE("every tooth from second molar to second molar belongs to the pair of its name, and no other does") {
    std::set<std::size_t> pairs;
    for (int quadrant = 1; quadrant <= 4; ++quadrant) {
        for (int place = 1; place <= 7; ++place) {
            const auto pair = pair_of_tooth(10 * quadrant + place);
            REQUIRE(pair.has_value());
            const int upper = upper_tooth_iso(*pair);
            CHECK(upper % 10 == place);
            CHECK((upper / 10 == 1) == (quadrant == 1 || quadrant == 4)); // right bites on right
            pairs.insert(*pair);
        }
    }
    CHECK(pairs.size() == pair_count);
    for (const int none : {0, -16, 10, 18, 28, 38, 48, 51, 19, 160}) {
        CHECK_FALSE(pair_of_tooth(none).has_value());
    }
}

TEST_CASE("the mouth of the lessons lands within a quarter of a millisecond when nothing is high") {
    CHECK(truth_of({}).spread_ms < 0.25);
}

TEST_CASE("a high tooth meets earlier by its height over the closing speed") {
    // The identity is geometry. The others come later still because the first contact slows the jaw, so it is a lower
    // bound; the jaw keeps most of its speed, so half as much again is an upper one.
    for (const double speed : {0.05, 0.1}) {
        for (const double height : {50.0, 100.0}) {
            LessonBite bite{.heights = {{.pair = 1, .height_um = height}}};
            bite.speed_m_per_s = speed;
            const TruthSummary truth = truth_of(bite);
            CAPTURE(speed);
            CAPTURE(height);
            CHECK(after_ms(truth, 1) == 0.0);
            const double expected = expected_delay_ms(height, speed);
            // Pair 12 is the other first molar, which closes as fast.
            CHECK(after_ms(truth, 12) > 0.9 * expected);
            CHECK(after_ms(truth, 12) < 1.5 * expected);
        }
    }
}

TEST_CASE("the delays are those that arithmetic gives") {
    CHECK(expected_delay_ms(100.0, 0.05) == doctest::Approx(2.0));
    CHECK(expected_delay_ms(25.0, 0.1) == doctest::Approx(0.25));
}

TEST_CASE("a tooth out of contact leaves the spread of the others as it was") {
    const TruthSummary truth = truth_of({.heights = {{.pair = 1, .height_um = -100.0}}});
    CHECK(truth.spread_ms < 0.25);
    CHECK(std::none_of(truth.pairs.begin(), truth.pairs.end(),
                       [](const PairTiming& timing) { return timing.pair == 1 && timing.after_ms < 1.0; }));
}

TEST_CASE("with one side high every back tooth of that side meets before any of the other") {
    for (const ArchSide side : {ArchSide::left, ArchSide::right}) {
        const TruthSummary truth = truth_of({.side = HighSide{.side = side, .height_um = 100.0}});
        REQUIRE(truth.pairs.size() >= 4);
        for (std::size_t i = 0; i < 3; ++i) {
            CHECK((truth.pairs[i].pair >= pair_count / 2) == (side == ArchSide::left));
        }
    }
}

TEST_CASE("no tap is cut off at full scale, however fast the teeth close") {
    LessonBite bite;
    bite.speed_m_per_s = 0.2;
    const Take take = make_lesson_take(few_taps(bite));
    const auto& samples = take.channels.front();
    CHECK(std::all_of(samples.begin(), samples.end(), [](float x) { return std::abs(x) < 1.0F; }));
}

TEST_CASE("every lesson has words, sounds and a task with one right answer, and its seed fixes it") {
    std::set<std::string> titles;
    for (int number = 1; number <= lesson_count; ++number) {
        CAPTURE(number);
        const Lesson one = lesson(number, 5);
        CHECK(one.number == number);
        CHECK_FALSE(one.words.empty());
        CHECK(one.sounds.size() >= 2);
        CHECK_FALSE(one.task.sounds.empty());
        CHECK(one.task.choices.size() >= 2);
        CHECK(one.task.right < one.task.choices.size());
        titles.insert(one.title);
        const Lesson again = lesson(number, 5);
        CHECK(again.task.right == one.task.right);
        CHECK(again.task.sounds.front().bite.take == one.task.sounds.front().bite.take);
    }
    CHECK(titles.size() == static_cast<std::size_t>(lesson_count));
}

TEST_CASE("the right answer of a task is where the changed bite is, and no place is always right") {
    for (const int number : {2, 4, 6}) {
        std::set<std::size_t> answers;
        for (std::uint64_t seed = 1; seed <= 20; ++seed) {
            const LessonTask task = lesson(number, seed).task;
            for (std::size_t i = 0; i < 2; ++i) {
                const LessonBite& bite = task.sounds[i].bite;
                CHECK((!bite.heights.empty() || bite.slide.has_value()) == (i == task.right));
            }
            answers.insert(task.right);
        }
        CHECK(answers.size() == 2);
    }
}

TEST_CASE("lesson three asks for the side that meets first in the model") {
    std::set<std::size_t> answers;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const LessonTask task = lesson(3, seed).task;
        const auto& side = task.sounds.front().bite.side;
        const std::size_t truth = !side ? 2U : side->side == ArchSide::left ? 0U : 1U;
        CHECK(task.right == truth);
        answers.insert(truth);
    }
    CHECK(answers.size() == 3);
}
