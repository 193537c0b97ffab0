#include "bite/course.hpp"

#include "bite/random.hpp"

#include <array>
#include <cassert>
#include <utility>

namespace retap::bite {

namespace {

constexpr std::size_t upper_right_first_molar = 1; // pair

LessonBite high(double height_um) {
    return {.heights = {{.pair = upper_right_first_molar, .height_um = height_um}}};
}

LessonBite low(double depth_um) {
    return high(-depth_um);
}

LessonBite sliding(double distance_um) {
    return {.slide = Slide{.pair = upper_right_first_molar, .distance_um = distance_um}};
}

LessonBite early_side(ArchSide side) {
    return {.side = HighSide{.side = side, .height_um = 100.0}, .pickups = Pickups::left_and_right};
}

LessonBite with(LessonBite bite, LessonRoom room, std::uint64_t take, std::uint64_t seat = 0) {
    bite.room = room;
    bite.take = take;
    bite.seat = seat;
    return bite;
}

// Draws what a task leaves to chance.
class Draw {
public:
    Draw(std::uint64_t seed, int number) : random_(seed, "lesson " + std::to_string(number)) {}
    bool coin() { return random_.below(2) == 1; }
    std::size_t below(std::size_t count) { return random_.below(count); }
    std::uint64_t take() { return 2 + random_.below(1000); } // never the take of the lesson's own sounds

private:
    Random random_;
};

// Two sounds in drawn order, and which of them (0 or 1) is the one asked for.
struct Pair {
    std::vector<LessonSound> sounds;
    std::size_t asked = 0;
};

Pair shuffled(Draw& draw, LessonBite asked, LessonBite other) {
    asked.take = draw.take();
    other.take = draw.take();
    Pair pair{.sounds = {{"A", "Listen.", std::move(asked)}, {"B", "Listen.", std::move(other)}}};
    if (draw.coin()) {
        std::swap(pair.sounds[0].bite, pair.sounds[1].bite);
        pair.asked = 1;
    }
    return pair;
}

Lesson one_impact(Draw& draw) {
    LessonBite fast;
    fast.speed_m_per_s = 0.1;
    Pair pair = shuffled(draw, fast, {});
    return {.title = "One sharp impact",
            .words = {"In the balanced bite of these lessons, which is a model, the teeth land within about a quarter "
                      "of a millisecond. The ear needs two to "
                      "three milliseconds to tell two clicks from one, so it hears a single sharp impact.",
                      "Closing faster makes the tap louder and brighter. That is effort, not balance: do not judge a "
                      "bite by how loud it is."},
            .sounds = {{"balanced", "A balanced bite, closing at 50 mm/s.", {}},
                       {"faster", "The same bite, closing at 100 mm/s: louder, and still one impact.", fast}},
            .task = {.question = "A and B are the same balanced bite. In which one do the teeth close faster?",
                     .sounds = std::move(pair.sounds),
                     .choices = {"A", "B"},
                     .right = pair.asked,
                     .because = "The faster one is louder and brighter. Both are one impact: nothing about the balance "
                                "has changed."}};
}

Lesson high_spot(Draw& draw) {
    Pair pair = shuffled(draw, high(100.0), {});
    Lesson lesson{
        .title = "A high spot",
        .words = {"A tooth that stands high meets first and the others follow. The delay is the height divided "
                  "by the closing speed: 100 \u00B5m at 50 mm/s is 2 ms.",
                  "So the same high spot sounds different in a slow and in a fast bite, and a sound alone "
                  "never gives a height: nobody knows the closing speed."},
        .sounds = {{"balanced", "Nothing is high.", {}}},
        .task = {.question = "In one of A and B a tooth is 100 \u00B5m high. Which one?",
                 .sounds = std::move(pair.sounds),
                 .choices = {"A", "B"},
                 .right = pair.asked,
                 .because = "The high tooth met about 2 ms before the others. That is where an ear begins to "
                            "hear two clicks instead of one; a smaller step it hears as a duller tap, or not "
                            "at all."}};
    for (const int height : {25, 50, 100, 150}) {
        lesson.sounds.push_back({"high-" + std::to_string(height),
                                 "The upper right first molar is " + std::to_string(height) + " \u00B5m high.",
                                 high(height)});
    }
    return lesson;
}

Lesson two_sides(Draw& draw) {
    LessonBite even;
    even.pickups = Pickups::left_and_right;
    std::array<LessonBite, 3> bites{early_side(ArchSide::left), early_side(ArchSide::right), even};
    const std::size_t right = draw.below(bites.size());
    LessonBite asked = bites.at(right);
    asked.take = draw.take();
    return {.title = "Balanced left and right",
            .words = {"With a pick-up on each side the sound has two channels: wear headphones the right way round. In "
                      "an even bite both sides start together; else the side that meets first starts first and is "
                      "often louder.",
                      "Sound crosses the head in less than half a millisecond, so a small lead can be the way through "
                      "the bone and nothing else. Compare with the same patient's own balanced taps."},
            .sounds = {{"even", "Both sides meet together.", even},
                       {"left-first", "The patient's left side meets first.", bites[0]},
                       {"right-first", "The patient's right side meets first.", bites[1]}},
            .task = {.question = "Which side meets first in A?",
                     .sounds = {{"A", "Listen with headphones.", std::move(asked)}},
                     .choices = {"the left side", "the right side", "both together"},
                     .right = right,
                     .because = "An early side may have many causes. Film and paper on both sides say which teeth "
                                "meet; the sound only says that something comes early."}};
}

Lesson a_slide(Draw& draw) {
    Pair pair = shuffled(draw, sliding(800.0), {});
    return {
        .title = "A slide",
        .words = {"Sometimes a tooth meets on an incline and leads the jaw sideways into its place. The first contact "
                  "is followed by a rubbing sound, and the rest of the teeth land many milliseconds later.",
                  "A slide smears the tap where a high spot splits it."},
        .sounds = {{"balanced", "No slide.", {}},
                   {"short-slide", "A slide of 0.3 mm.", sliding(300.0)},
                   {"long-slide", "A slide of 1 mm.", sliding(1000.0)}},
        .task = {.question = "Which one slides, A or B?",
                 .sounds = std::move(pair.sounds),
                 .choices = {"A", "B"},
                 .right = pair.asked,
                 .because = "Contacts that come more than 15 ms apart were heard in people with an early contact "
                            "and hardly ever in people without one; that was found in six people only."}};
}

Lesson out_of_contact(Draw& draw) {
    Pair pair = shuffled(draw, low(100.0), {});
    return {
        .title = "Out of contact sounds almost the same",
        .words = {"A restoration left too low takes no part in the tap. The other teeth land as before, so the sound "
                  "hardly changes: one voice of many is missing.",
                  "This is what sound is worst at, and what shim film is best at."},
        .sounds = {{"balanced", "All teeth meet.", {}},
                   {"out-of-contact", "The upper right first molar is 100 \u00B5m out of contact.", low(100.0)}},
        .task = {.question = "In one of A and B the upper right first molar is out of contact. Listen to both. What "
                             "would settle which one it is?",
                 .sounds = std::move(pair.sounds),
                 .choices = {"listening again", "shim film on that tooth", "asking a numb patient"},
                 .right = 1,
                 .because = std::string("It was ") + (pair.asked == 0 ? "A" : "B") +
                            ". If you heard it, it may have been luck. Film that pulls through where it held before "
                            "shows it at once."}};
}

Lesson fooled_ear(Draw& draw) {
    Pair pair = shuffled(draw, with(high(80.0), LessonRoom::busy, 1), with({}, LessonRoom::busy, 1, 3));
    pair.sounds[0].bite.room = pair.sounds[1].bite.room = LessonRoom::busy;
    return {
        .title = "Noise and re-seating fool the ear",
        .words = {"Take the pick-up off and put it back: the tone changes by a decibel or two in every band though the "
                  "bite did not change at all. Suction hides quiet contacts. A minute of drilling in between wipes "
                  "out what the ear remembered.",
                  "Leave the pick-up where it is for before and after, switch the suction off, and listen in one "
                  "sitting."},
        .sounds = {{"before", "A balanced bite in a quiet room.", {}},
                   {"re-seated", "The same bite, the pick-up taken off and put back.",
                    with({}, LessonRoom::quiet, 2, 3)},
                   {"noisy", "The same bite with suction and instruments.", with({}, LessonRoom::busy, 2)},
                   {"noisy-high", "A tooth 80 \u00B5m high in the same noise.", with(high(80.0), LessonRoom::busy, 2)}},
        .task = {.question = "One of A and B is the unchanged bite after the pick-up was put back, the other one has a "
                             "high spot of 80 \u00B5m. Which one has the high spot?",
                 .sounds = std::move(pair.sounds),
                 .choices = {"A", "B"},
                 .right = pair.asked,
                 .because = "A changed tone is easy to hear and means little here; the split of the tap is hard to "
                            "hear and means much."}};
}

Lesson same_or_different(Draw& draw) {
    const bool different = draw.coin();
    LessonBite first;
    LessonBite second = different ? high(70.0) : LessonBite{};
    first.take = draw.take();
    second.take = draw.take();
    if (draw.coin()) {
        std::swap(first, second);
    }
    return {
        .title = "Same or different",
        .words = {"No two recordings of one bite are equal: each tap differs a little from the next. The question "
                  "before and after a restoration is not whether you hear a difference, but whether it is larger "
                  "than the difference between two recordings of an unchanged bite.",
                  "One pair proves nothing; half of all guesses are right. The listening test asks often enough to say "
                  "how good your ear is."},
        .sounds = {{"first", "A balanced bite.", {}},
                   {"again", "The same bite, recorded again.", with({}, LessonRoom::quiet, 2)},
                   {"changed", "A tooth 70 \u00B5m high.", with(high(70.0), LessonRoom::quiet, 3)}},
        .task = {.question = "Are A and B the same bite, or does one have a tooth 70 \u00B5m high?",
                 .sounds = {{"A", "Listen.", std::move(first)}, {"B", "Listen.", std::move(second)}},
                 .choices = {"the same bite", "different"},
                 .right = different ? 1U : 0U,
                 .because = different ? "They were different: in one of them a tooth met about 1.4 ms early."
                                      : "They were two recordings of the same bite."}};
}

} // namespace

Lesson lesson(int number, std::uint64_t seed) {
    assert(number >= 1 && number <= lesson_count);
    constexpr std::array makers{one_impact,     high_spot,  two_sides,        a_slide,
                                out_of_contact, fooled_ear, same_or_different};
    static_assert(makers.size() == lesson_count);
    Draw draw(seed, number);
    Lesson made = makers.at(static_cast<std::size_t>(number - 1))(draw);
    made.number = number;
    return made;
}

ClinicWords clinic_words() {
    return {.can = {"whether the bite still sounds as it did before, in one sitting with the pick-up left in place",
                    "that something meets early, or slides, when the tap splits or smears",
                    "how much the taps of this patient differ by themselves"},
            .cannot = {"which tooth it is", "how high it is in micrometres: the closing speed is not known",
                       "that a restoration is out of contact: the others sound on without it",
                       "what to do: film holds and paper marks say where teeth meet, and adjusting is a decision for "
                       "licensed clinicians under their local rules"}};
}

} // namespace retap::bite
