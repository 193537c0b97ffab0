// Visits over several days from the terminal: what the next one takes over, what is still to be done, what this machine
// fills in, and taking things out again.
#include "environment.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "run_program.hpp"
#include "visit/raw_sqlite.hpp"
#include "visit_program.hpp"

#include <doctest/doctest.h>

#include <string>
#include <sys/stat.h>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::test;
using json = retap::report::Json;

namespace {

std::string run(const TempFolder& folder, const std::vector<std::string>& arguments) {
    const Outcome outcome = visit(folder, arguments);
    CAPTURE(arguments.front());
    CAPTURE(outcome.err);
    REQUIRE(outcome.status == 0);
    return outcome.out;
}

json data(const TempFolder& folder, std::vector<std::string> arguments) {
    arguments.emplace_back("--json");
    return json::parse(run(folder, arguments));
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string recording(const std::string& name) {
    return test::source_dir() + "/recordings/" + name + ".flac";
}

/// A first day that ends with a numb patient who says high, and the decision to wait.
void first_day(const TempFolder& folder) {
    run(folder,
        {"new", "C-1", "--teeth", "26", "--numbering", "iso", "--worker", "A. Student", "--supervisor", "B. Teacher"});
    run(folder, {"holds", "1", "before", "hold 17..14 24..27"});
    run(folder, {"marks", "1", "before", "centric 26 MP 16 MP"});
    run(folder, {"attach", "1", "before", recording("before")});
    run(folder, {"holds", "1", "after", "hold 17..14 24..27"});
    run(folder, {"feel", "1", "after", "--numb", "yes", "--says", "high"});
    run(folder, {"decide", "1", "wait", "--words", "until feeling is back"});
}

mode_t rights(const std::filesystem::path& file) {
    struct stat state {};
    return stat(file.c_str(), &state) == 0 ? state.st_mode & 0777U : 0U;
}

std::string hexadecimal(const std::string& bytes) {
    std::string text;
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        text += "0123456789ABCDEF"[byte >> 4U];
        text += "0123456789ABCDEF"[byte & 15U];
    }
    return text;
}

std::vector<int> numbers(const json& list) {
    std::vector<int> found;
    for (const json& one : list.at("visits")) {
        found.push_back(one.at("visit").get<int>());
    }
    return found;
}

} // namespace

TEST_CASE("a numb patient's second day needs no retyping: tooth, baseline with its sound, and what was left open") {
    const TempFolder folder;
    first_day(folder);
    const std::string signing = run(folder, {"sign", "1", "--name", "B. Teacher", "--role", "supervising dentist"});
    CHECK(contains(signing, "Still open: to be looked at again on another day, decided "));
    CHECK(contains(signing, "by A. Student; the patient was numb: until feeling is back"));
    CHECK(contains(signing, "retap visit new --follows 1"));
    CHECK(numbers(data(folder, {"list", "--waiting"})) == std::vector{1});

    const std::string opened = run(folder, {"new", "--follows", "1"});
    CHECK(contains(opened, "Visit 2, entry 1: opened for 'C-1', tooth 26 (iso)."));
    CHECK(contains(opened, "Continues visit 1 (C-1, opened "));
    CHECK(contains(opened, "Taken over as baseline: holds marks sound."));
    CHECK(contains(opened, "Still open from there: wait: until feeling is back ("));
    const json second = data(folder, {"show", "2"});
    CHECK(second.at("looks").at(0).at("holds").at("text") == "hold 17 16 15 14 24 25 26 27");
    CHECK(second.at("looks").at(0).at("takes").at(0).at("inherited").at("entry") == 4);
    CHECK(second.at("chain").at("earlier").at(0).at("visit") == 1);
    CHECK(second.at("still_open").at("action") == "wait");
    CHECK(second.at("supervisor") == "B. Teacher");
    CHECK(data(folder, {"show", "1"}).at("chain").at("later").at(0).at("visit") == 2);
    CHECK(contains(run(folder, {"show", "1"}), "Is continued by visit 2 (C-1, opened "));

    run(folder, {"attach", "2", "recheck", recording("after-unchanged")});
    const json compared = data(folder, {"compare", "2"});
    CHECK(compared.at("before").at("file") == "before.flac");
    CHECK(compared.at("verdict") == "alike");
    CHECK(numbers(data(folder, {"list", "--waiting"})).empty());
    CHECK(contains(run(folder, {"list"}), "continued"));
    run(folder, {"report", "2", "second.html"});
    CHECK(contains(bytes_of(folder / "second.html"), "Other days</dt><dd>Continues visit 1 (C-1, opened "));
    CHECK(run(folder, {"verify", "2"}).starts_with("Visit 2 is whole"));
}

TEST_CASE("the list finds what is due, waits, is unsigned, or has a label") {
    const TempFolder folder;
    first_day(folder);
    run(folder, {"new", "C-2", "--teeth", "16", "--numbering", "iso", "--worker", "A. Student"});
    run(folder, {"sign", "2", "--name", "B. Teacher", "--role", "dentist"});
    CHECK(numbers(data(folder, {"list", "--unsigned"})) == std::vector{1});
    CHECK(numbers(data(folder, {"list", "--label", "c-2"})) == std::vector{2});
    CHECK(numbers(data(folder, {"list", "--label", "Student"})).empty());
    CHECK(numbers(data(folder, {"list", "--due"})).empty()); // since today
    CHECK(numbers(data(folder, {"list", "--since", "today"})) == std::vector{2, 1});
    CHECK(numbers(data(folder, {"list", "--until", "yesterday"})).empty());
    const json waiting = data(folder, {"list", "--waiting"}).at("visits").at(0).at("still_open");
    CHECK(waiting.at("by") == "A. Student");
    CHECK(waiting.at("numb") == true);
    CHECK(contains(run(folder, {"list", "--waiting"}), ", numb, A. Student"));
    for (const std::vector<std::string>& wrong : {std::vector<std::string>{"list", "--since", "soon"},
                                                  {"list", "--until", "2031-02-30"},
                                                  {"list", "--label", " "}}) {
        CHECK(visit(folder, wrong).status == 2);
    }
    // the same, a day on
    RawSqlite raw(folder / "visits.db");
    REQUIRE(raw.run("UPDATE visit SET open_since = '2001-01-01T00:00:00Z' WHERE id = 1").empty());
    CHECK(numbers(data(folder, {"list", "--due"})) == std::vector{1});
}

TEST_CASE("times are shown by the clock of the place with its zone, and kept in UTC") {
    const TempFolder folder;
    const With zone("TZ", "XYZ-3");
    first_day(folder);
    CHECK(contains(run(folder, {"list"}), " XYZ"));
    CHECK_FALSE(contains(run(folder, {"show", "1", "--entries"}), "UTC"));
    CHECK(data(folder, {"show", "1"}).at("opened_at").get<std::string>().ends_with("Z"));
}

TEST_CASE("a decision belongs to the last look unless another is named, and one that is not the last is told") {
    const TempFolder folder;
    first_day(folder);
    CHECK(data(folder, {"show", "1"}).at("looks").at(1).at("decisions").at(0).at("action") == "wait");
    run(folder, {"holds", "1", "after2", "hold 26"});
    const Outcome late = visit(folder, {"decide", "1", "adjust", "--look", "after"});
    CHECK(late.status == 0);
    CHECK(late.out == "Visit 1, entry 9: decided at look 'after': adjust.\n");
    CHECK(contains(late.err, "Look 'after' is not the last; 'after2' came after it."));
    CHECK(data(folder, {"show", "1"}).at("still_open").is_null());
    CHECK(visit(folder, {"decide", "1", "adjust"}).err.empty());
    CHECK(data(folder, {"show", "1"}).at("still_open").at("look") == "after2");
    CHECK(visit(folder, {"decide", "1", "leave", "--look", "recheck"}).status == 3);
}

TEST_CASE("this machine fills in worker, supervisor and numbering, and the command line comes first") {
    const TempFolder folder;
    const TempFolder config;
    const With place("XDG_CONFIG_HOME", config.path().c_str());
    CHECK(visit(folder, {"new", "C-1", "--teeth", "16"}).status == 2);
    CHECK(contains(visit(folder, {"new", "C-1", "--teeth", "16"}).err, "retap visit defaults --numbering iso"));
    run(folder, {"defaults", "--worker", "A. Student", "--supervisor", "B. Teacher", "--numbering", "universal"});
    CHECK(rights(config / "retap" / "visits") == 0600U);
    CHECK(rights(config / "retap") == 0700U);
    run(folder, {"new", "C-1", "--teeth", "3"});
    run(folder, {"new", "C-2", "--teeth", "16", "--numbering", "iso", "--worker", "D. Other"});
    const json first = data(folder, {"show", "1"});
    CHECK(first.at("treated") == json{"16"});
    CHECK(first.at("worker") == "A. Student");
    CHECK(first.at("supervisor") == "B. Teacher");
    CHECK(data(folder, {"show", "2"}).at("worker") == "D. Other");
    CHECK(data(folder, {"defaults"}).at("numbering") == "universal");
    run(folder, {"defaults", "--forget"});
    CHECK(data(folder, {"defaults"}).at("numbering").is_null());
    CHECK(visit(folder, {"defaults", "--worker", "A\nB"}).status == 3);
}

TEST_CASE("a numbering can be corrected: the tooth stays, or is said anew") {
    const TempFolder folder;
    run(folder, {"new", "C-1", "--teeth", "14", "--numbering", "iso", "--worker", "A"});
    const std::string said = run(folder, {"correct", "1", "1", "--numbering", "universal", "--reason", "wrong list"});
    CHECK(contains(said, "The tooth is the same, written 5 from now on."));
    CHECK(data(folder, {"show", "1"}).at("treated") == json{"14"});
    run(folder, {"correct", "1", "2", "--numbering", "universal", "--teeth", "14", "--reason", "typed so"});
    CHECK(data(folder, {"show", "1"}).at("treated") == json{"26"});
    CHECK(data(folder, {"show", "1"}).at("numbering") == "universal");
}

TEST_CASE("a blank label is refused with what to give instead") {
    const TempFolder folder;
    for (const char* label : {"", " ", "\t", "\xC2\xA0"}) {
        const Outcome outcome =
            visit(folder, {"new", label, "--teeth", "16", "--numbering", "iso", "--worker", "A. Student"});
        CAPTURE(outcome.err);
        CHECK((outcome.status == 2 || outcome.status == 3));
        CHECK(contains(outcome.err, "label from the clinic's chart"));
    }
    CHECK(data(folder, {"list"}).at("visits").empty());
}

TEST_CASE("a take comes out again as it was kept, as FLAC to the byte and as WAV to the sample") {
    const TempFolder folder;
    first_day(folder);
    run(folder, {"take", "1", "before", "--out", "again.flac"});
    run(folder, {"take", "1", "before", "--out", "again.wav"});
    CHECK(rights(folder / "again.flac") == 0600U);
    RawSqlite raw(folder / "visits.db");
    CHECK(hexadecimal(bytes_of(folder / "again.flac")) == raw.value("SELECT hex(flac) FROM take"));
    const auto taps = [&](const char* file) {
        return json::parse(run_retap(folder.path(), {"inspect", file, "--json"}).out).at("taps");
    };
    CHECK(taps("again.flac") == taps("again.wav"));

    CHECK(visit(folder, {"take", "1", "before", "--out", "again.flac"}).status == 2); // exists
    CHECK(visit(folder, {"take", "1", "before", "--out", "again.flac", "--force"}).status == 0);
    CHECK(visit(folder, {"take", "1", "before", "--out", "again.mp3"}).status == 2);
    CHECK(visit(folder, {"take", "1", "before", "--out", "x.flac", "--entry", "2"}).status == 3);
    CHECK(visit(folder, {"take", "1", "recheck", "--out", "x.flac"}).status == 3);
    CHECK_FALSE(std::filesystem::exists(folder / "x.flac"));
}

TEST_CASE("a visit opened by mistake is discarded; one that holds something is not") {
    const TempFolder folder;
    first_day(folder);
    run(folder, {"new", "C-2", "--teeth", "16", "--numbering", "iso", "--worker", "A. Student"});
    CHECK(visit(folder, {"discard", "1"}).status == 3);
    CHECK(contains(run(folder, {"discard", "2"}), "held nothing and is discarded"));
    CHECK(numbers(data(folder, {"list"})) == std::vector{1});
    CHECK(data(folder, {"list", "--erased"}).at("erased").at(0).at("reason") == "opened by mistake; it held nothing");
}

TEST_CASE("what is no file of its own is not taken in: folders, pipes, devices, and more than any visit") {
    const TempFolder folder;
    REQUIRE(mkfifo((folder / "pipe").c_str(), 0600) == 0);
    REQUIRE(symlink("/dev/zero", (folder / "link").c_str()) == 0);
    {
        put_bytes(folder / "huge.json", "{");
        std::filesystem::resize_file(folder / "huge.json", std::uintmax_t{600} << 20U); // of holes
    }
    for (const auto& [file, reason] : {std::pair{"/", "it is a folder"},
                                       {".", "it is a folder"},
                                       {"pipe", "it is a device or a pipe"},
                                       {"/dev/zero", "it is a device or a pipe"},
                                       {"link", "it is a device or a pipe"},
                                       {"huge.json", "it is larger than any visit"},
                                       {"none.json", "there is no such file"}}) {
        CAPTURE(file);
        const Outcome outcome = visit(folder, {"import", file});
        CHECK(outcome.status == 3);
        CHECK(contains(outcome.err, reason));
        CHECK(outcome.peak_kb < 100000);
    }
    CHECK_FALSE(std::filesystem::exists(folder / "visits.db"));
}

TEST_CASE("numbers in a document that fit no entry are refused and never taken for others") {
    const TempFolder folder;
    run(folder, {"import", test::source_dir() + "/recordings/demo-visit.json"});
    const json whole = json::parse(bytes_of(test::source_dir() + "/recordings/demo-visit.json"));
    const auto refused = [&](auto change, const std::string& why) {
        json document = whole;
        change(document);
        put_bytes(folder / "in.json", document.dump());
        const Outcome outcome = run_retap(folder.path(), {"visit", "import", "in.json", "--store", "other.db"});
        CAPTURE(outcome.err);
        CHECK(outcome.status == 3);
        CHECK(contains(outcome.err, why));
    };
    refused([](json& d) { d["entries"][0]["number"] = 4294967297; }, "'4294967297' is not the number of an entry");
    refused([](json& d) { d["entries"][0]["number"] = 1.5; }, "'1.5' is not the number of an entry");
    refused([](json& d) { d["sounds"][0]["entry"] = -4294967292; }, "is not the number of an entry");
    refused([](json& d) { d["entries"][1]["corrects"] = 1e300; }, "is not the number of an entry");
    const auto with_score = [&](const char* score) {
        refused(
            [&](json& d) {
                for (json& entry : d["entries"]) {
                    if (entry["kind"] == "comparison") {
                        entry["body"]["score"] = score;
                    }
                }
            },
            "is no likeness");
    };
    with_score("nan");
    with_score("1e300");
    with_score("-1");
}

TEST_CASE("reports and tables of takes are for the owner alone") {
    const TempFolder folder;
    REQUIRE(
        run_retap(folder.path(), {"compare", recording("before"), recording("after-unchanged"), "--report", "out.html"})
            .status == 0);
    CHECK(rights(folder / "out.html") == 0600U);
    std::filesystem::create_directory(folder / "takes");
    std::filesystem::copy_file(recording("before"), folder / "takes" / "before.flac");
    REQUIRE(run_retap(folder.path(), {"batch", "takes", "--csv", "out.csv"}).status == 0);
    CHECK(rights(folder / "out.csv") == 0600U);
}

TEST_CASE("whoever records reads when not to have the patient tap") {
    const TempFolder folder;
    const std::string help = run_retap(folder.path(), {"record", "--help"}).out;
    for (const char* part : {"a tooth that hurts", "loose teeth, fresh implants", "cement or filling has set"}) {
        CHECK(contains(help, part));
    }
}

TEST_CASE("verify says what a digest cannot show") {
    const TempFolder folder;
    first_day(folder);
    CHECK(contains(run(folder, {"verify", "1"}), "What a digest cannot show:\n  - A visit that was written anew"));
    CHECK(data(folder, {"verify", "1"}).at("not_shown").size() == 4);
}
