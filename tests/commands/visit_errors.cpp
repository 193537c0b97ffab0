// What can go wrong with visit commands: the status, the message, and that nothing was written.
#include "contains.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "run_program.hpp"
#include "skipped.hpp"
#include "visit_program.hpp"
#include "without_rights.hpp"

#include <doctest/doctest.h>

#include <string>
#include <sys/stat.h>
#include <utility>

using namespace retap::test;
using json = retap::report::Json;
using retap::test::contains;

namespace {

void open_one(const TempFolder& folder) {
    const Outcome outcome =
        visit(folder, {"new", "C-1", "--teeth", "3", "--numbering", "universal", "--worker", "A. Student"});
    CAPTURE(outcome.err);
    REQUIRE(outcome.status == 0);
    REQUIRE(outcome.out == "Visit 1, entry 1: opened for 'C-1', tooth 3 (universal).\n");
}

} // namespace

TEST_CASE("a chart that cannot be read ends in status 3 with a caret under the character") {
    const TempFolder folder;
    open_one(folder);
    const Outcome outcome = visit(folder, {"holds", "1", "before", "hold 3 4 33"});
    CHECK(outcome.status == 3);
    CHECK(outcome.out.empty());
    CHECK(outcome.err ==
          "retap: The chart cannot be read: 33 is not a tooth in Universal numbering (1-32); in ISO numbering "
          "it is the lower left canine: if that is meant, start with \"iso:\".\n"
          "  hold 3 4 33\n"
          "           ^\n");
    CHECK(json::parse(visit(folder, {"show", "1", "--json"}).out).at("looks").empty());
}

TEST_CASE("teeth are never read without a numbering") {
    const TempFolder folder;
    CHECK(visit(folder, {"new", "C-1", "--teeth", "16", "--worker", "A"}).status == 2);
    const Outcome list = visit(folder, {"list", "--tooth", "16"});
    CHECK(list.status == 2);
    CHECK(contains(list.err, "--numbering iso or --numbering universal"));
    CHECK(visit(folder, {"agree", "holds", "hold 16", "hold 16"}).status == 2);
}

TEST_CASE("wrong words are wrong usage: status 2, and nothing is written") {
    const TempFolder folder;
    open_one(folder);
    for (const std::vector<std::string>& arguments : {std::vector<std::string>{"holds", "1", "later", "hold 3"},
                                                      {"feel", "1", "after", "--says", "great"},
                                                      {"decide", "1", "grind"},
                                                      {"holds", "zero", "before", "hold 3"},
                                                      {"holds", "-1", "before", "hold 3"},
                                                      {"compare"},
                                                      {"correct", "1", "1", "--reason", "x"},
                                                      {"erase", "1", "--by", "A", "--reason", "x"},
                                                      {},
                                                      {"chew"}}) {
        const Outcome outcome = visit(folder, arguments);
        CAPTURE(outcome.err);
        CHECK(outcome.status == 2);
        CHECK(outcome.out.empty());
    }
    CHECK(json::parse(visit(folder, {"show", "1", "--json"}).out).at("entries").size() == 1);
}

TEST_CASE("things that are not there end in status 3 and say how to find out what is") {
    const TempFolder folder;
    open_one(folder);
    const Outcome visit_missing = visit(folder, {"show", "7"});
    CHECK(visit_missing.status == 3);
    CHECK(visit_missing.err == "retap: There is no visit 7. See which there are with: retap visit list\n");
    CHECK(contains(visit(folder, {"compare", "1"}).err, "has no look 'after' yet"));
    CHECK(
        contains(visit(folder, {"correct", "1", "9", "x", "--reason", "y"}).err, "Entry 9 of visit 1 does not exist"));
    CHECK(contains(visit(folder, {"attach", "1", "before", "missing.wav"}).err, "missing.wav"));
    CHECK(visit(folder, {"attach", "1", "before", "missing.wav"}).status == 3);
    CHECK(visit(folder, {"import", "missing.json"}).status == 3);
}

TEST_CASE("store trouble ends in status 5") {
    const TempFolder folder;
    put_bytes(folder / "visits.db", std::string(4096, 'x'));
    const Outcome outcome = visit(folder, {"list"});
    CHECK(outcome.status == 5);
    CHECK(contains(outcome.err, "not a visit store"));
    CHECK(bytes_of(folder / "visits.db") == std::string(4096, 'x'));
}

TEST_CASE("a store on a read-only disk is listed and shown, and what would be written is refused with the reason") {
    const TempFolder folder;
    open_one(folder);
    const ReadOnly closed(folder.path());
    REQUIRE(closed.works());
    if (faccessat(AT_FDCWD, (retap::test::binary_dir() + "/retap").c_str(), X_OK, AT_EACCESS) != 0) {
        retap::test::skipped("who has no rights here may not even start the program.");
        return;
    }
    const Outcome list = visit(folder, {"list"});
    CHECK(list.status == 0);
    CHECK(contains(list.out, "C-1"));
    CHECK(visit(folder, {"show", "1"}).status == 0);
    CHECK(visit(folder, {"next", "1"}).status == 0);
    const Outcome note = visit(folder, {"holds", "1", "before", "hold 3"});
    CHECK(note.status == 5);
    CHECK(contains(note.err, "Check that you may write to the file and its folder."));
    CHECK(folder.entries() == 1);
}

TEST_CASE("documents that are no exported visits are refused with the reason, and leave nothing") {
    const TempFolder folder;
    const std::vector<std::pair<const char*, const char*>> documents = {
        {"", "it is no exported visit: it breaks off or is no JSON at character 1"},
        {R"({"format": "retap.visit/1")", "it breaks off or is no JSON at character 27"},
        {"[1, 2]", "it is not an exported visit"},
        {R"({"format": "retap.take/1"})", "it is not an exported visit"},
        {R"({"format": "retap.visit/1", "sounds": []})", "parts of it are missing or of another kind"},
        {R"({"format": "retap.visit/1", "uid": "x", "sounds": [], "entries": []})", "The visit has no entries."},
        {R"({"format": "retap.visit/1", "uid": 5, "sounds": [], "entries": []})",
         "parts of it are missing or of another kind"},
        {R"({"format": "retap.visit/1", "uid": "x", "sounds": [{"entry": 1, "flac_base64": "!", "analysis": "",
             "settings": ""}], "entries": []})",
         "a sound in it is not Base64"},
        {R"({"format": "retap.visit/1", "uid": "x", "sounds": [], "entries": [{"number": 1, "kind": "odd", "look": null,
             "at": "", "by": "", "corrects": null, "reason": null, "body": {}, "digest": ""}]})",
         "'odd' is not known here"},
    };
    for (const auto& document : documents) {
        const std::string text = document.first;
        const std::string reason = document.second;
        CAPTURE(text);
        put_bytes(folder / "in.json", text);
        const Outcome outcome = visit(folder, {"import", "in.json"});
        CHECK(outcome.status == 3);
        CAPTURE(outcome.err);
        CHECK(contains(outcome.err, reason));
    }
    CHECK(json::parse(visit(folder, {"list", "--json"}).out).at("visits").empty());
}

TEST_CASE("tampering makes verify end in status 5 and name the entry, as JSON too") {
    const TempFolder folder;
    open_one(folder);
    CHECK(visit(folder, {"verify", "1"}).status == 0);
    const Outcome other = visit(folder, {"verify", "1", "--digest", std::string(64, '0'), "--json"});
    CHECK(other.status == 5);
    CHECK(json::parse(other.out).at("whole") == false);
    CHECK(contains(other.err, "not the one that was noted"));
}

TEST_CASE("a label that looks like a name gets a hint and is kept all the same") {
    const TempFolder folder;
    const Outcome outcome =
        visit(folder, {"new", "Mary Example", "--teeth", "16", "--numbering", "iso", "--worker", "A"});
    CHECK(outcome.status == 0);
    CHECK(contains(outcome.err, "looks like a name"));
    CHECK(visit(folder, {"correct", "1", "1", "--label", "C-9", "--reason", "no names"}).status == 0);
    CHECK(json::parse(visit(folder, {"list", "--json"}).out).at("visits").at(0).at("label") == "C-9");
}

TEST_CASE("corrections stand in for entries, and the earlier ones stay readable") {
    const TempFolder folder;
    open_one(folder);
    REQUIRE(visit(folder, {"holds", "1", "before", "hold 3 4"}).status == 0);
    const Outcome again = visit(folder, {"holds", "1", "before", "hold 3"});
    CHECK(again.status == 3);
    CHECK(contains(again.err, "retap visit correct 1 2"));
    REQUIRE(visit(folder, {"correct", "1", "2", "hold 3; open 4", "--reason", "read it wrongly"}).status == 0);
    const Outcome shown = visit(folder, {"show", "1", "--entries"});
    CHECK(contains(shown.out, "hold 3; open 4  [3]"));
    CHECK(contains(shown.out, "corrected later"));
    CHECK(contains(shown.out, "corrects 2: read it wrongly"));
    REQUIRE(visit(folder, {"correct", "1", "3", "--withdraw", "--reason", "other patient"}).status == 0);
    const json now = json::parse(visit(folder, {"show", "1", "--json"}).out);
    CHECK(now.at("looks").empty());
    CHECK(now.at("entries").size() == 4);
}

TEST_CASE("erasing asks first, then leaves a tombstone") {
    const TempFolder folder;
    open_one(folder);
    const Outcome asked = visit(folder, {"erase", "1", "--by", "A. Student", "--reason", "test"});
    CHECK(asked.status == 2);
    CHECK(contains(asked.err, "add --yes"));
    CHECK(visit(folder, {"erase", "1", "--by", "A. Student", "--reason", "test", "--yes"}).status == 0);
    CHECK(visit(folder, {"show", "1"}).status == 3);
    const json erased = json::parse(visit(folder, {"list", "--erased", "--json"}).out);
    CHECK(erased.at("erased").at(0).at("reason") == "test");
}

TEST_CASE("erasing a visit takes along the recordings that never reached it, and no other's") {
    const TempFolder folder;
    open_one(folder);
    std::filesystem::create_directory(folder / "visits.db.takes");
    const auto its = folder / "visits.db.takes/visit-1-before-20310514T083207Z.flac";
    const auto other = folder / "visits.db.takes/visit-11-before-20310514T083207Z.flac";
    put_bytes(its, "sound");
    put_bytes(other, "sound");
    CHECK(visit(folder, {"erase", "1", "--by", "A. Student", "--reason", "test", "--yes"}).status == 0);
    CHECK_FALSE(std::filesystem::exists(its));
    CHECK(std::filesystem::exists(other));
}

TEST_CASE("the store and what is written from it are for the owner alone") {
    const TempFolder folder;
    open_one(folder);
    CHECK(visit(folder, {"export", "1", "visit.json"}).status == 0);
    CHECK(visit(folder, {"report", "1", "visit.html"}).status == 0);
    CHECK(visit(folder, {"backup", "copy.db"}).status == 0);
    for (const char* file : {"visits.db", "visit.json", "visit.html", "copy.db"}) {
        CAPTURE(file);
        struct stat state {};
        REQUIRE(stat((folder / file).c_str(), &state) == 0);
        CHECK((state.st_mode & 0777U) == 0600U);
    }
}

TEST_CASE("a backup is a store like the first") {
    const TempFolder folder;
    open_one(folder);
    CHECK(visit(folder, {"backup", "copy.db"}).status == 0);
    CHECK(visit(folder, {"backup", "copy.db"}).status == 3);
    const Outcome list = run_retap(folder.path(), {"visit", "list", "--store", "copy.db", "--json"});
    CHECK(json::parse(list.out).at("visits").size() == 1);
}

TEST_CASE("a store that is not there is said, and asking for it does not make one") {
    const TempFolder folder;
    for (const std::vector<std::string>& arguments : {std::vector<std::string>{"show", "1"},
                                                      {"next", "1"},
                                                      {"holds", "1", "before", "hold 3"},
                                                      {"backup", "copy.db"},
                                                      {"verify", "1"}}) {
        CAPTURE(arguments.front());
        const Outcome outcome = visit(folder, arguments);
        CHECK(outcome.status == 3);
        CHECK(contains(outcome.err, "There is no visit store 'visits.db' yet."));
    }
    const Outcome list = visit(folder, {"list"});
    CHECK(list.status == 0);
    CHECK(list.out == "No visits: there is no store 'visits.db' yet.\n");
    CHECK(json::parse(visit(folder, {"list", "--json"}).out).at("visits").empty());
    CHECK(json::parse(visit(folder, {"list", "--erased", "--json"}).out).at("erased").empty());
    CHECK(folder.entries() == 0);
}

TEST_CASE("an export does not write over the store") {
    const TempFolder folder;
    open_one(folder);
    CHECK(visit(folder, {"export", "1", "visits.db"}).status == 2);
    CHECK(visit(folder, {"report", "1", "visits.db"}).status == 2);
    CHECK(visit(folder, {"verify", "1"}).status == 0);
}

TEST_CASE("a recording that is attached a second time is told, with the way back") {
    const TempFolder folder;
    open_one(folder);
    const std::string take = retap::test::source_dir() + "/recordings/before.flac";
    CHECK(visit(folder, {"attach", "1", "before", take}).err.empty());
    const Outcome again = visit(folder, {"attach", "1", "after", take});
    CHECK(again.status == 0);
    CHECK(again.err ==
          "retap: This recording is in visit 1 already, as 'before.flac' of look 'before' (entry 2): compared "
          "with itself it says nothing. If that is a mistake: retap visit correct 1 3 --withdraw "
          "--reason \"wrong file\"\n");
    CHECK(visit(folder, {"correct", "1", "3", "--withdraw", "--reason", "wrong file"}).status == 0);
}

TEST_CASE("a look whose take is not fit shows the verdict and no likeness") {
    const TempFolder folder;
    open_one(folder);
    REQUIRE(visit(folder, {"attach", "1", "before", retap::test::source_dir() + "/recordings/before.flac"}).status ==
            0);
    REQUIRE(visit(folder, {"attach", "1", "after", retap::test::source_dir() + "/recordings/clipped.flac"}).status ==
            0);
    const Outcome compared = visit(folder, {"compare", "1", "after"});
    CHECK(contains(compared.out, "No likeness"));
    CHECK(contains(compared.out, "(-4")); // the noise of the baseline, with a minus from the keyboard
    const Outcome shown = visit(folder, {"show", "1"});
    CHECK(contains(shown.out, "sound    unclear: It is unclear"));
    CHECK_FALSE(contains(shown.out, "likeness"));
    REQUIRE(visit(folder, {"report", "1", "visit.html"}).status == 0);
    const std::string report = bytes_of(folder / "visit.html");
    CHECK(contains(report, "unclear, no likeness."));
    CHECK_FALSE(contains(report, "ikeness 50"));
}

TEST_CASE("a baseline that had to be recorded again is judged by the good take") {
    const TempFolder folder;
    open_one(folder);
    for (const auto& [look, take] :
         {std::pair{"before", "clipped"}, {"before", "before"}, {"after", "after-high-100um"}}) {
        REQUIRE(visit(folder,
                      {"attach", "1", look, retap::test::source_dir() + "/recordings/" + std::string(take) + ".flac"})
                    .status == 0);
    }
    const json compared = json::parse(visit(folder, {"compare", "1", "after", "--json"}).out);
    CHECK(compared.at("verdict") == "different");
    CHECK(compared.at("before").at("file") == "before.flac");
    CHECK(compared.at("reasons").back() == "One take before is not fit and left out.");
    CHECK(contains(visit(folder, {"show", "1"}).out, "sound    different"));
}

TEST_CASE("what the database or the reader of JSON says is told without the words of their libraries") {
    const TempFolder folder;
    put_bytes(folder / "letter.txt", "Dear colleague, " + std::string(2000, 'x'));
    const Outcome store = run_retap(folder.path(), {"visit", "list", "--store", "letter.txt"});
    CHECK(store.status == 5);
    CHECK(store.err ==
          "retap: Cannot open the visit store in 'letter.txt': file is not a database. The file is damaged "
          "or not a visit store; keep it aside and go back to a backup.\n");
    const Outcome import = visit(folder, {"import", "letter.txt"});
    CHECK(import.status == 3);
    CHECK(import.err ==
          "retap: Cannot take in 'letter.txt': it is no exported visit: it breaks off or is no JSON at character 1. "
          "Give a file that 'retap visit export' wrote.\n");
}

TEST_CASE("agreement of two charts is told in percent and kappa, typed or kept") {
    const TempFolder folder;
    const Outcome typed = visit(folder, {"agree", "holds", "hold 16 17 26; slide 27", "hold 16 17; slide 26 27",
                                         "--numbering", "iso", "--json"});
    REQUIRE(typed.status == 0);
    const json result = json::parse(typed.out).at("agreement").at(0);
    CHECK(result.at("observed") == 0.75);
    CHECK(result.at("kappa") == 0.5);
    open_one(folder);
    REQUIRE(visit(folder, {"marks", "1", "before", "3 CF 14 CF"}).status == 0);
    const Outcome kept = visit(folder, {"agree", "marks", "1:before", "3 CF 14 CF+", "--numbering", "universal"});
    CHECK(kept.status == 0);
    CHECK(contains(kept.out, "same: 100.0 %"));
    CHECK(contains(kept.out, "same: 50.0 %"));
    CHECK(visit(folder, {"agree", "holds", "1:before", "hold 3", "--numbering", "universal"}).status == 3);
}

TEST_CASE("the table of rules can be printed whole") {
    const TempFolder folder;
    const Outcome text = visit(folder, {"rules"});
    CHECK(text.status == 0);
    const json rules = json::parse(visit(folder, {"rules", "--json"}).out).at("rules");
    CHECK(rules.size() >= 20);
    for (const json& rule : rules) {
        CHECK(contains(text.out, rule.at("suggestion").get<std::string>()));
        CHECK(contains(text.out, rule.at("when").get<std::string>()));
    }
    CHECK(folder.entries() == 0); // and needs no store
}
