#include "made_takes.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "run_program.hpp"

#include <doctest/doctest.h>
#include <fstream>

using namespace retap;
using namespace retap::test;

TEST_CASE("a take against itself is no comparison: status 3, the reason, and no report") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    for (const std::string format : {"--json", "--same-setting"}) {
        const Outcome outcome =
            run_retap(folder.path(), {"compare", "take.wav", "take.wav", format, "--report", "report.html"});
        CHECK(outcome.status == 3);
        CHECK(outcome.out.empty());
        CHECK(outcome.err.find("Before and after hold the same recording") != std::string::npos);
        CHECK_FALSE(std::filesystem::exists(folder / "report.html"));
    }
}

TEST_CASE("levels count for the evidence only when the setting is said to be the same") {
    const std::string takes = test::source_dir() + "/recordings/";
    const auto kinds = [&](std::vector<std::string> more) {
        std::vector<std::string> arguments{"compare", takes + "before.flac", takes + "after-unchanged.flac", "--json"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Outcome outcome = run_retap("/", arguments);
        REQUIRE(outcome.status == 0);
        std::vector<std::string> names;
        const report::Json json = report::Json::parse(outcome.out);
        for (const auto& kind : json["evidence"]["kinds"]) {
            names.push_back(kind["kind"]);
        }
        return names;
    };
    CHECK(std::ranges::count(kinds({}), "level") == 0);
    CHECK(std::ranges::count(kinds({"--same-setting"}), "level") == 1);
}

TEST_CASE("swapping before and after gives the same score, and a second contact 2 ms late is not called alike") {
    const TempFolder folder;
    write_take(folder / "before.wav", {.seed = 7});
    write_take(folder / "after.wav", {.second_contact_ms = 2.0, .seed = 8});
    const Outcome there = run_retap(folder.path(), {"compare", "before.wav", "after.wav", "--json"});
    const Outcome back = run_retap(folder.path(), {"compare", "after.wav", "before.wav", "--json"});
    REQUIRE(there.status == 0);
    REQUIRE(back.status == 0);
    CHECK(report::Json::parse(there.out)["likeness"] == report::Json::parse(back.out)["likeness"]);
    CHECK(report::Json::parse(there.out)["verdict"] != "alike");
}

TEST_CASE("the text opens with the verdict and the likeness and ends with the cautions") {
    const std::string takes = test::source_dir() + "/recordings/";
    const Outcome outcome = run_retap("/", {"compare", takes + "before.flac", takes + "after-unchanged.flac",
                                            "--also-before", takes + "before-again.flac"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.out.starts_with("ALIKE: "));
    CHECK(outcome.out.find("\nLikeness ") != std::string::npos);
    CHECK(outcome.out.find("\n  Landing: how many times as much the sides differ as taps of one unchanged bite do") !=
          std::string::npos);
    CHECK(outcome.out.ends_with("it is for the licensed clinician under local rules.\n"));
}

TEST_CASE("where a take is not fit there is no likeness to read, but why and what to do") {
    const TempFolder folder;
    const Outcome outcome = run_retap(folder.path(), {"compare", test::source_dir() + "/recordings/before.flac",
                                                      test::source_dir() + "/recordings/clipped.flac"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.out.starts_with("UNCLEAR: "));
    CHECK(outcome.out.find("\nNo likeness: it takes two takes that are fit") != std::string::npos);
    CHECK(outcome.out.find("Likeness 50") == std::string::npos);
    CHECK(outcome.out.find("Turn the input level down") != std::string::npos);
    CHECK(outcome.out.find("up to 0") == std::string::npos); // none of its taps tells how far up they reach
}

TEST_CASE("where a take is not fit the JSON tells no likeness either: anything from 0 to 100") {
    const TempFolder folder;
    // 8 kHz: its taps can be measured, but it holds nothing above 4 kHz and is not fit
    write_take(folder / "dull.wav", {.rate_hz = 8000.0});
    write_take(folder / "take.wav");
    const Outcome outcome = run_retap(folder.path(), {"compare", "take.wav", "dull.wav", "--json"});
    REQUIRE(outcome.status == 0);
    const auto json = report::Json::parse(outcome.out);
    REQUIRE(json["after"]["fitness"]["usable"] == false);
    REQUIRE(!json["measures"].empty());
    CHECK(json["verdict"] == "unclear");
    CHECK(json["likeness"] == report::Json({{"score", 50.0}, {"low", 0.0}, {"high", 100.0}}));
}

TEST_CASE("a take that is named twice for one side counts once, and that is said") {
    const TempFolder folder;
    write_take(folder / "before.wav", {.seed = 7});
    write_take(folder / "after.wav", {.seed = 8});
    const Outcome once = run_retap(folder.path(), {"compare", "before.wav", "after.wav", "--json"});
    const Outcome twice =
        run_retap(folder.path(), {"compare", "before.wav", "after.wav", "--also-before", "./before.wav", "--json"});
    CHECK(once.err.empty());
    CHECK(twice.status == 0);
    CHECK(twice.out == once.out);
    CHECK(twice.err == "retap: './before.wav' is named twice for one side and counts once: a repeat has to be a "
                       "recording of its own.\n");
}

TEST_CASE("the report is one page with both sounds inside that fetches nothing") {
    const TempFolder folder;
    write_take(folder / "before.wav", {.seed = 7});
    write_take(folder / "after.wav", {.seed = 8});
    const Outcome outcome = run_retap(folder.path(), {"compare", "before.wav", "after.wav", "--report", "report.html"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.out.ends_with("\nReport: report.html\n"));
    const std::string page = bytes_of(folder / "report.html");
    CHECK(page.starts_with("<!DOCTYPE html>"));
    std::size_t sounds = 0;
    for (auto at = page.find("data:audio/flac;base64,"); at != std::string::npos;
         at = page.find("data:audio/flac;base64,", at + 1)) {
        ++sounds;
    }
    CHECK(sounds == 2);
    CHECK(page.find("src=\"http") == std::string::npos);
    CHECK(page.find("href=\"http") == std::string::npos);
    CHECK(folder.entries() == 3);
}

TEST_CASE("no report is left by a run that failed, and an older one stays as it was") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    put_bytes(folder / "report.html", "an older report");
    const Outcome outcome = run_retap(folder.path(), {"compare", "take.wav", "missing.wav", "--report", "report.html"});
    CHECK(outcome.status == 3);
    CHECK(outcome.out.empty());
    CHECK(outcome.err == "retap: Cannot read 'missing.wav': there is no such file. Check the name and the folder.\n");
    CHECK(bytes_of(folder / "report.html") == "an older report");
    CHECK(folder.entries() == 2);
}

TEST_CASE("a report is refused where it would destroy a take, by whatever name") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    std::filesystem::create_symlink("take.wav", folder / "link");
    const std::string before = bytes_of(folder / "take.wav");
    for (const char* report : {"take.wav", "./take.wav", "link"}) {
        const Outcome outcome = run_retap(folder.path(), {"compare", "take.wav", "take.wav", "--report", report});
        CHECK(outcome.status == 2);
        CHECK(outcome.err ==
              "retap: Writing '" + std::string(report) + "' would destroy the take 'take.wav'. Give another name.\n");
    }
    CHECK(bytes_of(folder / "take.wav") == before);
}

TEST_CASE("a report into a folder that is not there is refused with status 3") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    write_take(folder / "other.wav", {.seed = 8});
    const Outcome outcome =
        run_retap(folder.path(), {"compare", "take.wav", "other.wav", "--report", "none/report.html"});
    CHECK(outcome.status == 3);
    CHECK(outcome.out.empty());
    CHECK(outcome.err == "retap: Cannot write 'none/report.html': No such file or directory. Choose another place or "
                         "make room.\n");
}
