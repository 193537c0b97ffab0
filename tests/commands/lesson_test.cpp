#include "aside_file.hpp"
#include "bite/course.hpp"

#include "error.hpp"
#include "report/json.hpp"
#include "run_program.hpp"

#include <algorithm>
#include <doctest/doctest.h>
#include <set>
#include <string>
#include <sys/stat.h>

using namespace retap;
using namespace retap::test;

TEST_CASE("a made listener of known threshold is found by the whole program, within its interval") {
    const TempFolder folder;
    const Outcome outcome = run_retap(folder.path(), {"lesson", "test", "--listener", "40", "--seed", "5", "--taps",
                                                      "3", "--learner", "made-1", "--results", "kept.csv", "--json"});
    REQUIRE(outcome.status == 0);
    const auto json = report::Json::parse(outcome.out);
    CHECK(json["format"] == "retap.lesson-odd/1");
    const auto& low = json["threshold"]["low_um"]; // none where it lies below all that was played
    const auto lowest = std::ranges::min(json["trials"], {},
                                         [](const auto& trial) { return trial["height_um"].template get<double>(); });
    CHECK((low.is_null() ? lowest["height_um"] : low).get<double>() <= 40.0);
    CHECK(json["threshold"]["high_um"].get<double>() >= 40.0);
    CHECK(json["trials"].size() >= 10);
    const double um = json["threshold"]["value_um"].get<double>();
    CHECK(json["threshold"]["value_ms"].get<double>() == doctest::Approx(um / 50.0).epsilon(0.001)); // at 50 mm/s
    CHECK(bytes_of(folder / "kept.csv").starts_with("# retap.listening/1\n"));
    struct stat found {};
    REQUIRE(stat((folder / "kept.csv").c_str(), &found) == 0);
    CHECK((found.st_mode & 077U) == 0U);
}

TEST_CASE("answers come from a script line by line, and the result counts them") {
    const TempFolder folder;
    // Without input the answers end at once; a result must not come of it, nor a line be kept.
    const Outcome ended =
        run_retap(folder.path(), {"lesson", "test", "--way", "same", "--pairs", "2", "--taps", "3", "--seed", "1",
                                  "--out", "sounds", "--learner", "x", "--results", "kept.csv"});
    CHECK(ended.status == 3);
    CHECK(ended.out.empty());
    CHECK(ended.err.find("The answers ended before the questions did") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(folder / "kept.csv"));
    CHECK(std::filesystem::exists(folder / "sounds" / "trial-1.wav"));
    const Outcome silent = run_retap(folder.path(), {"lesson", "test"});
    CHECK(silent.status == 2);
}

TEST_CASE("own takes are compared, one alone is refused, and one that is not fit is named") {
    const TempFolder folder;
    for (const char* take : {"1", "2", "3"}) {
        REQUIRE(
            run_retap(folder.path(), {"lesson", "bench", "--take", take, "--out", std::string(take) + ".wav"}).status ==
            0);
    }
    const Outcome own = run_retap(folder.path(), {"lesson", "own", "1.wav", "2.wav", "3.wav"});
    CHECK(own.status == 0);
    CHECK(own.out.find("take to take") != std::string::npos);
    CHECK(run_retap(folder.path(), {"lesson", "own", "1.wav"}).status == 2);
    REQUIRE(run_retap(folder.path(), {"lesson", "bench", "--taps", "1", "--out", "one.wav"}).status == 0);
    const Outcome unfit = run_retap(folder.path(), {"lesson", "own", "1.wav", "one.wav"});
    CHECK(unfit.status == 3);
    CHECK(unfit.err.find("'one.wav' is not fit to be measured") != std::string::npos);
}

TEST_CASE("the handout holds every sound and task, fetches nothing, and a failed run leaves none") {
    const TempFolder folder;
    const Outcome outcome = run_retap(folder.path(), {"lesson", "--export", "handout.html"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.out == "Handout: handout.html\n");
    const std::string page = bytes_of(folder / "handout.html");
    std::size_t sounds = 0;
    for (auto at = page.find("data:audio/flac;base64,"); at != std::string::npos;
         at = page.find("data:audio/flac;base64,", at + 1)) {
        ++sounds;
    }
    std::size_t expected = 0;
    for (int number = 1; number <= bite::lesson_count; ++number) {
        const bite::Lesson lesson = bite::lesson(number, 1);
        expected += lesson.sounds.size() + lesson.task.sounds.size();
        CHECK(page.find(lesson.title) != std::string::npos);
    }
    CHECK(sounds == expected);
    CHECK(page.find("src=\"http") == std::string::npos);
    CHECK(page.find("href=\"http") == std::string::npos);
    CHECK(run_retap(folder.path(), {"lesson", "--export", "none/handout.html"}).status == 3);
    CHECK(folder.entries() == 1);
}

TEST_CASE("the drawings of a chart lesson are not written over the answers to it") {
    const TempFolder folder;
    write_file_whole(folder / "answers.txt", "open 17..27\n");
    const Outcome refused =
        run_retap(folder.path(), {"lesson", "chart", "1", "--out", "answers.txt", "--answers", "answers.txt"});
    CHECK(refused.status == 2);
    CHECK(refused.err.find("would destroy the answers 'answers.txt'") != std::string::npos);
    CHECK(bytes_of(folder / "answers.txt") == "open 17..27\n");
}
