#include "made_takes.hpp"
#include "report/json.hpp"
#include "run_program.hpp"
#include "utf8.hpp"

#include <doctest/doctest.h>
#include <sstream>

using namespace retap;
using namespace retap::test;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

} // namespace

TEST_CASE("a file name that is not UTF-8 does not spoil the table for those who read it") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    write_take(folder / "takes/caf\xE9.wav", {.taps = 8});
    put_bytes(folder / "takes/d\xE9j\xE0.wav", "not a sound");
    REQUIRE(run_retap(folder.path(), {"batch", "takes", "--csv", "table.csv"}).status == 0);
    const std::string table = bytes_of(folder / "table.csv");
    CHECK(is_utf8(table));
    CHECK(table.find("\ncaf\xEF\xBF\xBD.wav,,48000") != std::string::npos);
}

TEST_CASE("a file whose name begins as a formula is text in the table") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    for (const char* name : {"=1+1.wav", "+1.wav", "-1.wav", "@SUM(1).wav"}) {
        put_bytes(folder / "takes" / name, "not a sound");
    }
    write_take(folder / "takes/a=1.wav", {.taps = 8});
    REQUIRE(run_retap(folder.path(), {"batch", "takes", "--csv", "table.csv"}).status == 0);
    std::string names;
    for (const std::string& line : lines_of(bytes_of(folder / "table.csv"))) {
        names += line.substr(0, line.find(',')) + "\n";
    }
    CHECK(names == "file\n'+1.wav\n'-1.wav\n'=1+1.wav\n'@SUM(1).wav\na=1.wav\n");
}

TEST_CASE("batch gives a row for each sound file in order of name, and a bad file does not stop the others") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    write_take(folder / "takes/b.wav", {.taps = 9});
    write_take(folder / "takes/a, with a comma.WAV", {.taps = 8});
    put_bytes(folder / "takes/c.flac", "not a sound");
    put_bytes(folder / "takes/notes.txt", "not looked at");
    const Outcome outcome = run_retap(folder.path(), {"batch", "takes", "--csv", "table.csv"});
    REQUIRE(outcome.status == 0);
    const std::string fault = "Cannot use 'takes/c.flac': it is not a sound file that can be read (WAV, FLAC, "
                              "AIFF, OGG and MP3 are). Save it as WAV or FLAC.";
    CHECK(outcome.err == "retap: " + fault + "\n");
    CHECK(outcome.out.starts_with("3 files: 2 inspected, "));
    CHECK(outcome.out.ends_with(" 1 could not be used.\nPassed over, as no sound: notes.txt.\nTable: table.csv\n"));
    const auto lines = lines_of(bytes_of(folder / "table.csv"));
    REQUIRE(lines.size() == 4);
    CHECK(lines[0].starts_with("file,error,sample_rate_hz,channels,duration_s,usable,reasons,taps,usable_taps,"));
    CHECK(lines[1].starts_with("\"a, with a comma.WAV\",,48000.0,1,4.2,"));
    CHECK(lines[2].starts_with("b.wav,,48000.0,1,4.6,"));
    CHECK(lines[3].starts_with("c.flac,\"" + fault + "\",,,"));
}

TEST_CASE("batch reads a sound whatever it is called, and as JSON lists what it passes over") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    write_take(folder / "takes/take.wav", {.taps = 8});
    std::filesystem::rename(folder / "takes/take.wav", folder / "takes/Memo 1");
    put_bytes(folder / "takes/notes.txt", "not looked at");
    put_bytes(folder / "takes/.hidden", "not listed");
    const Outcome outcome = run_retap(folder.path(), {"batch", "takes", "--json"});
    REQUIRE(outcome.status == 0);
    const auto json = report::Json::parse(outcome.out);
    CHECK(json.at("takes").at(0).at("file") == "takes/Memo 1");
    CHECK(json.at("passed_over") == report::Json::array({"takes/notes.txt"}));
}

TEST_CASE("batch as JSON holds the same takes as inspect, and the files that failed") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    write_take(folder / "takes/a.wav");
    put_bytes(folder / "takes/b.wav", "");
    const Outcome outcome = run_retap(folder.path(), {"batch", "takes", "--json"});
    REQUIRE(outcome.status == 0);
    const auto json = report::Json::parse(outcome.out);
    CHECK(json["format"] == "retap.batch/1");
    REQUIRE(json["takes"].size() == 1);
    report::Json alone = report::Json::parse(run_retap(folder.path(), {"inspect", "takes/a.wav", "--json"}).out);
    CHECK(alone["settings"] == json["settings"]); // once for all of them
    alone.erase("settings");
    CHECK(json["takes"][0] == alone);
    REQUIRE(json["failed"].size() == 1);
    CHECK(json["failed"][0]["file"] == "takes/b.wav");
}

TEST_CASE("batch fails with status 3 when there is nothing it could use, and leaves no table") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "empty");
    std::filesystem::create_directory(folder / "bad");
    put_bytes(folder / "bad/a.wav", "hello");
    const auto check = [&](const std::string& name, const std::string& last_line) {
        const Outcome outcome = run_retap(folder.path(), {"batch", name, "--csv", "table.csv"});
        CHECK(outcome.status == 3);
        CHECK(outcome.out.empty());
        CHECK(outcome.err.ends_with(last_line));
        CHECK(folder.entries() == 2);
    };
    check("empty", "retap: There are no sound files in 'empty'. Name the folder that holds them; folders inside it are "
                   "not searched.\n");
    check("bad", "retap: None of the 1 sound files in 'bad' could be used.\n");
    check("missing", "retap: Cannot list 'missing': No such file or directory. Name a folder with sound files.\n");
}

TEST_CASE("a table is refused where it would destroy a take or cannot be written") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    const Outcome over = run_retap(folder.path(), {"batch", ".", "--csv", "take.wav"});
    CHECK(over.status == 2);
    CHECK(over.err == "retap: Writing 'take.wav' would destroy the take './take.wav'. Give another name.\n");
    const Outcome nowhere = run_retap(folder.path(), {"batch", ".", "--csv", "none/table.csv"});
    CHECK(nowhere.status == 3);
    CHECK(nowhere.out.empty());
    CHECK(folder.entries() == 1);
}

TEST_CASE("progress with an estimate is shown on a terminal, wiped when done, and nowhere else") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    for (const char* name : {"takes/a.wav", "takes/b.wav", "takes/c.wav"}) {
        write_take(folder / name, {.taps = 3});
    }
    const Outcome shown = run_retap(folder.path(), {"batch", "takes", "--json"}, {.err_terminal = true});
    CHECK(shown.status == 0);
    CHECK(shown.err.find("1 of 3 takes, about ") != std::string::npos);
    CHECK(shown.err.find("3 of 3 takes, about 0 s left") != std::string::npos);
    CHECK(shown.err.ends_with("\r\033[K"));
    CHECK(run_retap(folder.path(), {"batch", "takes", "--json"}).err.empty());
}

TEST_CASE("the parts of a folder put together are the table of the whole, each file once") {
    const TempFolder folder;
    std::filesystem::create_directory(folder / "takes");
    for (const char* name : {"a.wav", "b, or not.wav", "c \"d\".wav", "e.wav"}) {
        write_take(folder / "takes" / name, {.taps = 8});
    }
    put_bytes(folder / "takes/f.flac", "not a sound");
    REQUIRE(run_retap(folder.path(), {"batch", "takes", "--csv", "whole.csv"}).status == 0);
    std::vector<std::string> merging = {"merge", "merged.csv"};
    for (const char* part : {"1/3", "2/3", "3/3"}) {
        const std::string table = "part" + std::string(1, part[0]) + ".csv";
        REQUIRE(run_retap(folder.path(), {"batch", "takes", "--shard", part, "--csv", table}).status == 0);
        merging.push_back(table);
    }
    REQUIRE(run_retap(folder.path(), merging).status == 0);
    CHECK(bytes_of(folder / "merged.csv") == bytes_of(folder / "whole.csv"));

    merging.push_back("part1.csv");
    if (lines_of(bytes_of(folder / "part1.csv")).size() > 1) {
        CHECK(run_retap(folder.path(), merging).err.find("stands in 'part1.csv' and in a table before it") !=
              std::string::npos);
    }
    const std::string whole = bytes_of(folder / "whole.csv");
    put_bytes(folder / "cut.csv", whole.substr(0, whole.size() - 5));
    const Outcome cut = run_retap(folder.path(), {"merge", "out.csv", "cut.csv"});
    CHECK(cut.status == 3);
    CHECK(cut.err.find("its last line has no end; it may have been cut off") != std::string::npos);
    CHECK(run_retap(folder.path(), {"merge", "out.csv", "missing.csv"}).status == 3);
    CHECK(run_retap(folder.path(), {"merge", "part1.csv", "part1.csv"}).status == 2);
    for (const char* wrong : {"0/3", "4/3", "1", "a/3", "1/3x", "1/0", "/"}) {
        CAPTURE(wrong);
        CHECK(run_retap(folder.path(), {"batch", "takes", "--json", "--shard", wrong}).status == 2);
    }
    CHECK(std::filesystem::exists(folder / "out.csv") == false);
}
