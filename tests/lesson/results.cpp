#include "lesson/results.hpp"

#include "environment.hpp"
#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::lesson;
using namespace retap::test;

TEST_CASE("the results of a learner are found by the label alone, not by a word elsewhere in the line") {
    const TempFolder folder;
    const auto file = folder / "kept.csv";
    append_result(file, {.when = "2031-05-14 10:32", .learner = "seat-3", .way = "odd", .unit = "um"});
    CHECK(read_results(file, "odd").empty());
    CHECK(read_results(file, "seat-3").size() == 1);
}

TEST_CASE("results are only ever added to, and come out by learner as a table") {
    const TempFolder folder;
    const auto file = folder / "deep" / "kept.csv";
    ListeningResult one{.when = "2031-05-14 10:32", .learner = "seat-3", .way = "odd", .unit = "um"};
    one.value = 41.5;
    append_result(file, one);
    const std::string first = bytes_of(file);
    one.learner = "seat-4";
    one.value.reset();
    append_result(file, one);
    CHECK(bytes_of(file).starts_with(first));
    CHECK(results_csv(read_results(file, "seat-3")) ==
          "when,learner,way,closing_speed_mm_s,trials,right,value,unit,low,high,retap_right\n"
          "2031-05-14 10:32,seat-3,odd,0.0,0,0,41.50,um,,,0\n");
    CHECK(results_csv(read_results(file, "")).find("seat-4,odd,0.0,0,0,,um,,,0") != std::string::npos);
    put_bytes(folder / "other.csv", "something else\n");
    CHECK_THROWS_AS((void)read_results(folder / "other.csv", ""), InputError);
    put_bytes(folder / "cut.csv", bytes_of(file) + "2031-05-14 10:40,seat-3,od\n");
    CHECK_THROWS_AS((void)read_results(folder / "cut.csv", ""), InputError);
    for (const char* const line :
         {"2031-05-14 10:40,seat-3,odd,0.0,8,6,3x,um,,,5\n", "2031-05-14 10:40,seat-3,odd,nan,8,6,,um,,,5\n",
          "2031-05-14 10:40,seat-3,odd,0.0,8,6,41.5,um,inf,,5\n"}) {
        CAPTURE(line);
        put_bytes(folder / "junk.csv", bytes_of(file) + line);
        CHECK_THROWS_AS((void)read_results(folder / "junk.csv", ""), InputError);
    }
    CHECK_THROWS_AS(check_label("A Name"), UsageError);
    CHECK_THROWS_AS(check_label(""), UsageError);
    CHECK_THROWS_AS(check_label("a,b"), UsageError);
    CHECK_NOTHROW(check_label("seat-3_b.1"));
}

TEST_CASE("results are kept where it was asked for, else in the data folder, else at home") {
    // XDG Base Directory Specification: $XDG_DATA_HOME, else $HOME/.local/share; relative paths are to be ignored
    const With data("XDG_DATA_HOME", "/d");
    const With home("HOME", "/h");
    CHECK(results_file("asked.csv") == "asked.csv");
    CHECK(results_file("") == "/d/retap/listening.csv");
    const With relative("XDG_DATA_HOME", "d");
    CHECK(results_file("") == "/h/.local/share/retap/listening.csv");
    const With homeless("HOME", nullptr);
    CHECK_THROWS_AS((void)results_file(""), UsageError);
}
