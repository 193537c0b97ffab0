// Wrong usage: status 2, two lines on stderr, nothing on stdout.
#include "run_program.hpp"

#include <doctest/doctest.h>

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
