#include "audio/inspect_file.hpp"
#include "bite/course.hpp"
#include "environment.hpp"
#include "report/json.hpp"
#include "report/lesson_heard.hpp"
#include "run_program.hpp"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <map>
#include <optional>
#include <string>

using namespace retap;
using namespace retap::test;

namespace {

struct Heard {
    dsp::TakeAnalysis take;
    std::map<std::string, std::optional<double>> measures;
    bite::Take made;
};

Heard hear(const bite::LessonBite& bite) {
    Heard heard{.take = {}, .measures = {}, .made = bite::make_lesson_take(bite)};
    audio::Sound sound{.sample_rate_hz = heard.made.sample_rate_hz,
                       .channels = static_cast<int>(heard.made.channels.size()),
                       .interleaved = {}};
    for (std::size_t i = 0; i < heard.made.channels.front().size(); ++i) {
        for (const auto& channel : heard.made.channels) {
            sound.interleaved.push_back(channel[i]);
        }
    }
    heard.take = audio::inspect_sound(sound, "made");
    for (const report::HeardMeasure& measure : report::heard_measures(heard.take)) {
        heard.measures[measure.name] = measure.middle;
    }
    return heard;
}

double value(const Heard& heard, const std::string& name) {
    const auto found = heard.measures.at(name);
    REQUIRE(found.has_value());
    return *found;
}

} // namespace

TEST_CASE("every sound of every lesson in a quiet room has its taps heard where the model made them") {
    for (int number = 1; number <= bite::lesson_count; ++number) {
        for (const bite::LessonSound& sound : bite::lesson(number, 1).sounds) {
            if (sound.bite.room == bite::LessonRoom::busy) {
                continue; // that lesson is about what noise does
            }
            CAPTURE(number);
            CAPTURE(sound.name);
            const Heard heard = hear(sound.bite);
            // One of eight may differ so much from the others that it is told from the run.
            CHECK(heard.take.taps.size() + 1 >= heard.made.taps.size());
            for (const dsp::Tap& tap : heard.take.taps) {
                // Within 2 ms of a tap that was made: no two of them are nearer than 200 ms.
                CHECK(std::any_of(heard.made.taps.begin(), heard.made.taps.end(), [&tap](const bite::TapTruth& truth) {
                    return std::abs(tap.onset_s - truth.onset_s) < 2e-3;
                }));
            }
        }
    }
}

TEST_CASE("what Retap measures moves with the height of the high spot as the model does") {
    // Direction as in Suzuki 1990, Aichi Gakuin Dent J 28: with a raised spot the amplitude falls and the duration
    // grows.
    const Heard balanced = hear({});
    double last_rise_ms = value(balanced, "rise");
    for (const double height : {50.0, 100.0, 150.0}) {
        const Heard high = hear({.heights = {{.pair = 1, .height_um = height}}});
        CAPTURE(height);
        CHECK(value(high, "duration") > value(balanced, "duration"));
        CHECK(value(high, "peak") < value(balanced, "peak"));
        // The loudest moment comes when the others land, so it moves by the delay.
        CHECK(value(high, "rise") > last_rise_ms);
        last_rise_ms = value(high, "rise");
    }
}

TEST_CASE("a slide lasts longer than a balanced tap, a faster one is louder, and out of contact changes little") {
    const Heard balanced = hear({});
    const Heard slide = hear({.slide = bite::Slide{.pair = 1, .distance_um = 1000.0}});
    CHECK(value(slide, "duration") > 1.3 * value(balanced, "duration"));
    bite::LessonBite fast;
    fast.speed_m_per_s = 0.1;
    // Twice the speed is 6 dB at least (force grows with speed to the power of 1 to 1.2 by Hertz).
    CHECK(value(hear(fast), "peak") > value(balanced, "peak") + 5.0);
    const Heard out = hear({.heights = {{.pair = 1, .height_um = -100.0}}});
    CHECK(std::abs(value(out, "peak") - value(balanced, "peak")) < 3.0);
    CHECK(std::abs(value(out, "rise") - value(balanced, "rise")) < 0.5);
}

TEST_CASE("the bench says what happened beside what was measured, and writes the sound") {
    const TempFolder folder;
    const Outcome outcome =
        run_retap(folder.path(), {"lesson", "bench", "--high", "16=100", "--taps", "4", "--out", "bite.wav"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.err.empty());
    CHECK(outcome.out.find("100 \u00B5m / 50 mm/s = 2.00 ms") != std::string::npos);
    CHECK(outcome.out.find("What really happened") != std::string::npos);
    CHECK(audio::inspect_file(folder / "bite.wav").taps.size() == 4);
    CHECK(folder.entries() == 1);
}

TEST_CASE("slow motion makes the sound longer, and the same bench gives the same bytes") {
    const TempFolder folder;
    for (const char* file : {"a.wav", "b.wav"}) {
        REQUIRE(run_retap(folder.path(), {"lesson", "bench", "--taps", "2", "--out", file}).status == 0);
    }
    CHECK(bytes_of(folder / "a.wav") == bytes_of(folder / "b.wav"));
    REQUIRE(run_retap(folder.path(), {"lesson", "bench", "--taps", "2", "--slow", "4", "--out", "slow.wav"}).status ==
            0);
    REQUIRE(
        run_retap(folder.path(), {"lesson", "bench", "--taps", "2", "--slow", "4", "--keep-pitch", "--out", "kept.wav"})
            .status == 0);
    const auto frames = [&](const char* file) {
        return static_cast<double>(audio::read_sound(folder / file).interleaved.size());
    };
    CHECK(frames("slow.wav") == doctest::Approx(4.0 * frames("a.wav")).epsilon(0.001));
    CHECK(frames("kept.wav") == doctest::Approx(4.0 * frames("a.wav")).epsilon(0.001));
}

TEST_CASE("the bench refuses what is no tooth or out of range, and says what to give") {
    const TempFolder folder;
    const auto refusal = [&](const std::vector<std::string>& options) {
        std::vector<std::string> arguments{"lesson", "bench"};
        arguments.insert(arguments.end(), options.begin(), options.end());
        const Outcome outcome = run_retap(folder.path(), arguments);
        CHECK(outcome.status == 2);
        CHECK(outcome.out.empty());
        return outcome.err;
    };
    CHECK(refusal({"--high", "18=50"}).find("'18' is no tooth from second molar to second molar") != std::string::npos);
    CHECK(refusal({"--high", "16=201"}).find("from 0 to 200") != std::string::npos);
    CHECK(refusal({"--high", "16"}).find("micrometres") != std::string::npos);
    CHECK(refusal({"--side", "up=50"}).find("left or right") != std::string::npos);
    CHECK(refusal({"--slide", "16=10"}).find("from 50 to 1500") != std::string::npos);
    CHECK(refusal({"--keep-pitch"}).find("--slow") != std::string::npos);
}

TEST_CASE("a lesson checks the answer to its task by the truth of the model") {
    const TempFolder folder;
    const bite::LessonTask task = bite::lesson(7, 11).task;
    for (std::size_t i = 0; i < task.choices.size(); ++i) {
        const std::string letter(1, static_cast<char>('a' + static_cast<char>(i)));
        const Outcome outcome =
            run_retap(folder.path(), {"lesson", "run", "7", "--seed", "11", "--answer", letter, "--json"});
        REQUIRE(outcome.status == 0);
        const auto json = report::Json::parse(outcome.out);
        CHECK(json["format"] == "retap.lesson/1");
        CHECK(json["answer"]["right"] == (i == task.right));
    }
    const Outcome none = run_retap(folder.path(), {"lesson", "run", "7", "--seed", "11", "--answer", "z"});
    CHECK(none.status == 2);
    CHECK(run_retap(folder.path(), {"lesson", "run", "8"}).status == 2);
}

TEST_CASE("the lessons are listed, and lesson by itself says what to ask for") {
    const TempFolder folder;
    const Outcome list = run_retap(folder.path(), {"lesson", "list"});
    CHECK(list.status == 0);
    CHECK(list.out.find("Out of contact sounds almost the same") != std::string::npos);
    const Outcome bare = run_retap(folder.path(), {"lesson"});
    CHECK(bare.status == 2);
    CHECK(bare.err == "retap: Say which part of the lessons, as in: retap lesson list\n");
}

TEST_CASE("what a person has kept at home is no business of these tests") {
    const TempFolder home;
    const With data("XDG_DATA_HOME", home.path().c_str());
    std::filesystem::create_directory(home / "retap");
    put_bytes(home / "retap/listening.csv", "# retap.listening/1\n2031-05-14 10:32,seat-3,odd,50.0,20,14,,um,,,18\n");
    const Outcome none = run_retap(home.path(), {"lesson", "results"});
    const Outcome list = run_retap(home.path(), {"visit", "list"});
    CHECK(none.out == "No results yet. They come from: retap lesson test --learner LABEL\n");
    CHECK(list.status == 0);
    CHECK_FALSE(std::filesystem::exists(home / "retap/visits.db"));
}

TEST_CASE("results of listening tests come as text, table and JSON, and before the first test there are none") {
    const TempFolder folder;
    const Outcome none = run_retap(folder.path(), {"lesson", "results"});
    CHECK(none.status == 0);
    CHECK(none.out == "No results yet. They come from: retap lesson test --learner LABEL\n");
    CHECK(report::Json::parse(run_retap(folder.path(), {"lesson", "results", "--json"}).out)["tests"].empty());
    CHECK(run_retap(folder.path(), {"lesson", "results", "--results", "missing.csv"}).status == 3);
    put_bytes(folder / "kept.csv", "# retap.listening/1\n"
                                   "2031-05-14 10:32,seat-3,odd,50.0,20,14,41.50,um,30.25,,18\n"
                                   "2031-05-14 10:40,seat-4,same,50.0,24,20,,d',1.10,,23\n");
    const Outcome shown = run_retap(folder.path(), {"lesson", "results", "--results", "kept.csv", "--json"});
    REQUIRE(shown.status == 0);
    const auto json = report::Json::parse(shown.out);
    CHECK(json["format"] == "retap.lesson-results/1");
    REQUIRE(json["tests"].size() == 2);
    CHECK(json["tests"][0] == report::Json({{"when", "2031-05-14 10:32"},
                                            {"learner", "seat-3"},
                                            {"way", "odd"},
                                            {"closing_speed_mm_s", 50.0},
                                            {"trials", 20},
                                            {"right", 14},
                                            {"value", 41.5},
                                            {"unit", "um"},
                                            {"low", 30.25},
                                            {"high", nullptr},
                                            {"retap_right", 18}}));
    CHECK(json["tests"][1]["value"].is_null());
    const Outcome table = run_retap(
        folder.path(), {"lesson", "results", "--results", "kept.csv", "--learner", "seat-4", "--csv", "t.csv"});
    CHECK(table.out == "Table: t.csv\n");
    CHECK(bytes_of(folder / "t.csv") ==
          "when,learner,way,closing_speed_mm_s,trials,right,value,unit,low,high,retap_right\n"
          "2031-05-14 10:40,seat-4,same,50.0,24,20,,d',1.10,,23\n");
}

TEST_CASE("a wrong answer to a lesson and two heights of one tooth are wrong usage, and nothing is printed") {
    const TempFolder folder;
    for (const std::vector<std::string>& arguments :
         {std::vector<std::string>{"run", "1", "--answer", "z"},
          {"bench", "--high", "16=50", "--low", "16"},
          {"bench", "--high", "16=50", "--high", "46=80"}, // 46 is the lower tooth of the same pair
          {"bench", "--high", "33=50", "--numbering", "universal"}}) {
        std::vector<std::string> all = arguments;
        all.insert(all.begin(), "lesson");
        const Outcome outcome = run_retap(folder.path(), all);
        CAPTURE(outcome.err);
        CHECK(outcome.status == 2);
        CHECK(outcome.out.empty());
    }
}
