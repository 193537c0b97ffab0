// Wrong usage: status 2, two lines on stderr, nothing on stdout.
#include "paths.hpp"
#include "run_program.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <vector>

using namespace retap::test;

namespace {

void check_usage(const std::vector<std::string>& arguments, const std::string& err) {
    const TempFolder folder;
    const Outcome outcome = run_retap(folder.path(), arguments);
    CAPTURE(outcome.err);
    CHECK(outcome.status == 2);
    CHECK(outcome.out.empty());
    CHECK(outcome.err == err);
    CHECK(folder.entries() == 0);
}

} // namespace

TEST_CASE("wrong usage is told in one line, with one more that says what to try") {
    check_usage({}, "retap: Say what to do, as in: retap inspect TAKE.\nTry: retap --help\n");
    check_usage({"chew"}, "retap: The following argument was not expected: chew.\nTry: retap --help\n");
    check_usage({"inspect"}, "retap: TAKE is required.\nTry: retap inspect --help\n");
    check_usage({"inspect", "a.wav", "b.wav"},
                "retap: The following argument was not expected: b.wav.\nTry: retap inspect --help\n");
    check_usage({"inspect", "a.wav", "--loud"},
                "retap: The following argument was not expected: --loud.\nTry: retap inspect --help\n");
    check_usage({"inspect", "a.wav", "--channels", "0"},
                "retap: --channels: Value 0 not in range 1 to 1024.\nTry: retap inspect --help\n");
    check_usage({"compare", "a.wav"}, "retap: AFTER is required.\nTry: retap compare --help\n");
    check_usage({"compare", "a.wav", "b.wav", "--report"},
                "retap: --report: 1 required OUT.html missing.\nTry: retap compare --help\n");
    check_usage({"batch", "."},
                "retap: Nothing would come of this: name a table to write (--csv OUT.csv) or ask for --json.\n");
}

TEST_CASE("what to try names the command that was meant, however deep it lies") {
    check_usage({"visit", "feel", "1", "after", "--numb", "high"},
                "retap: --numb: high not in {yes,no}.\nTry: retap visit feel --help\n");
    check_usage({"lesson", "run", "9"}, "retap: NUMBER: Value 9 not in range 1 to 7.\nTry: retap lesson run --help\n");
}

TEST_CASE("limits are told in the numbers a person would write, and what is no number is refused") {
    check_usage({"record", "a.wav", "--seconds", "1"},
                "retap: --seconds: Value 1 not in range 2 to 600.\nTry: retap record --help\n");
    check_usage({"record", "a.wav", "--seconds", "nan"},
                "retap: --seconds: Value nan not in range 2 to 600.\nTry: retap record --help\n");
    for (const char* number : {"zero", "0", "-1", "1.5", "99999999999999999999"}) {
        check_usage({"visit", "show", number}, "retap: VISIT: '" + std::string(number) +
                                                   "' is not a number from 1 up.\nTry: retap visit show --help\n");
    }
}

TEST_CASE("a dash is no file: nothing is written under that name, and nothing is read from standard input") {
    const TempFolder folder;
    const std::string take = retap::test::source_dir() + "/recordings/before.flac";
    for (const std::vector<std::string>& arguments :
         {std::vector<std::string>{"batch", retap::test::source_dir() + "/recordings", "--csv", "-"},
          {"compare", take, retap::test::source_dir() + "/recordings/after-unchanged.flac", "--report", "-"},
          {"lesson", "bench", "--taps", "3", "--out", "-"},
          {"visit", "backup", "-", "--store", "visits.db"}}) {
        CAPTURE(arguments.front());
        const Outcome outcome = run_retap(folder.path(), arguments);
        CHECK(outcome.status == 2);
        CHECK(outcome.out.empty());
        CHECK(outcome.err.find("'-' is not taken for standard output. Name a file") != std::string::npos);
        CHECK_FALSE(std::filesystem::exists(folder / "-"));
    }
    const Outcome read = run_retap(folder.path(), {"inspect", "-"});
    CHECK(read.status == 3);
    CHECK(read.err == "retap: Cannot read '-': sound is read from files, not from standard input. Save it to a file "
                      "first.\n");
}

TEST_CASE("help speaks of numbers, limits and choices, not of the types of a programming language") {
    const TempFolder folder;
    const std::string record = run_retap(folder.path(), {"record", "--help"}).out;
    CHECK(record.find("--taps N") != std::string::npos);
    CHECK(record.find("(3 to 100; 8 when not given)") != std::string::npos);
    const std::string test = run_retap(folder.path(), {"lesson", "test", "--help"}).out;
    CHECK(test.find("--way odd|same") != std::string::npos);
    for (const std::vector<std::string>& command : {std::vector<std::string>{"record"},
                                                    {"chairside"},
                                                    {"visit", "sign"},
                                                    {"lesson", "bench"},
                                                    {"visit", "agree"}}) {
        std::vector<std::string> arguments = command;
        arguments.emplace_back("--help");
        const std::string help = run_retap(folder.path(), arguments).out;
        CAPTURE(help);
        for (const char* jargon : {"INT", "FLOAT", "REQUIRED", "Needs:", "POSITIVE", "TEXT:"}) {
            CHECK(help.find(jargon) == std::string::npos);
        }
    }
    CHECK(run_retap(folder.path(), {"visit", "sign", "--help"}).out.find("Who signs (must be given)") !=
          std::string::npos);
}

TEST_CASE("help that cannot be written is no success") {
    const TempFolder folder;
    for (const char* asked : {"--help", "--version"}) {
        const Outcome outcome = run_retap(folder.path(), {asked}, {.out_path = "/dev/full"});
        CHECK(outcome.status == 3);
        CHECK(outcome.err.starts_with("retap: Cannot write the result"));
    }
}

TEST_CASE("absurd channel lists are wrong usage, not a crash") {
    const TempFolder folder;
    for (const char* list : {"-1", "1,2,3", "99999999999999999999", "left", ",", "1.5"}) {
        CAPTURE(list);
        const Outcome outcome = run_retap(folder.path(), {"inspect", "a.wav", "--channels", list});
        CHECK(outcome.status == 2);
        CHECK(outcome.out.empty());
        CHECK(outcome.err.starts_with("retap: "));
    }
}

TEST_CASE("help and version go to stdout with status 0") {
    const TempFolder folder;
    for (const std::vector<std::string>& arguments :
         {std::vector<std::string>{"--help"}, {"inspect", "--help"}, {"compare", "-h"}, {"batch", "--help"}}) {
        const Outcome outcome = run_retap(folder.path(), arguments);
        CHECK(outcome.status == 0);
        CHECK(outcome.out.find("Usage: retap") != std::string::npos);
        CHECK(outcome.err.empty());
    }
    const Outcome version = run_retap(folder.path(), {"--version"});
    CHECK(version.status == 0);
    CHECK(version.out == "retap " RETAP_VERSION "\n");
}
