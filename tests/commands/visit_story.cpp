// A whole visit from the terminal, as a script would drive it: a baseline, an after look that lost two holds and
// carries a heavy mark, an adjustment, a second after look that matches, a sign-off; then the record travels and is
// checked.
#include "contains.hpp"
#include "paths.hpp"
#include "report/base64.hpp"
#include "report/json.hpp"
#include "run_program.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <utility>

using namespace retap::test;
using json = retap::report::Json;
using retap::test::contains;

namespace {

const std::filesystem::path demo_visit = retap::test::source_dir() + "/recordings/demo-visit.json";

/// Takes the three sounds out of the demo visit: before.flac, after.flac (left high), after2.flac (adjusted).
void unpack_sounds(const std::filesystem::path& folder) {
    const json demo = json::parse(bytes_of(demo_visit));
    for (const json& sound : demo.at("sounds")) {
        const std::size_t entry = sound.at("entry").get<std::size_t>() - 1;
        const auto bytes = retap::report::from_base64(sound.at("flac_base64").get<std::string>());
        REQUIRE(bytes);
        put_bytes(folder / demo.at("entries").at(entry).at("body").at("name").get<std::string>(), *bytes);
    }
}

/// Runs visit commands on one store and expects each to succeed.
class Script {
public:
    explicit Script(std::filesystem::path folder, std::string store = "visits.db")
        : folder_(std::move(folder)), store_(std::move(store)) {}

    Outcome attempt(std::vector<std::string> arguments) const {
        arguments.insert(arguments.begin(), "visit");
        arguments.insert(arguments.end(), {"--store", store_});
        return run_retap(folder_, arguments);
    }
    std::string run(const std::vector<std::string>& arguments) const {
        const Outcome outcome = attempt(arguments);
        CAPTURE(arguments.front());
        CAPTURE(outcome.err);
        REQUIRE(outcome.status == 0);
        return outcome.out;
    }
    json data(std::vector<std::string> arguments) const {
        arguments.emplace_back("--json");
        return json::parse(run(arguments));
    }

    [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }

private:
    std::filesystem::path folder_;
    std::string store_;
};

std::vector<std::string> rules(const json& next) {
    std::vector<std::string> ids;
    for (const json& step : next.at("next")) {
        ids.push_back(step.at("rule").get<std::string>());
    }
    return ids;
}

bool has(const std::vector<std::string>& ids, const std::string& id) {
    return std::find(ids.begin(), ids.end(), id) != ids.end();
}

constexpr const char* whole_holds = "hold 17..14 24..27; slide 13 23; open 12..22";
constexpr const char* two_lost = "hold 17..14 25 26; slide 24 27 13 23; open 12..22";
constexpr const char* even_marks = "centric 17 MP 16 MP 14 P 24 P 26 CF MP 27 MP 36 MB 37 MB 46 MB 47 MB";
constexpr const char* heavy_marks = "centric 17 MP 16 MP 14 P 26 CF+* MP* 37 MB- 46 MB- 47 MB-";
constexpr const char* even_marks_after = "centric 17 MP 16 MP 14 P 24 P 26 CF* MP* 27 MP 36 MB 37 MB 46 MB 47 MB; "
                                         "working none; non-working none; protrusive none";

void tell_baseline(const Script& script) {
    script.run({"new", "C-2207", "--teeth", "26", "--numbering", "iso", "--procedure", "composite, occlusal",
                "--worker", "A. Student", "--supervisor", "B. Teacher"});
    CHECK(rules(script.data({"next", "1"})) == std::vector<std::string>{"no-baseline"});
    CHECK(contains(script.run({"holds", "1", "before", whole_holds}),
                   "8 of 14 tested pairs hold: 4 right, 4 left; 0 front, 8 back."));
    script.run({"marks", "1", "before", even_marks});
    CHECK(rules(script.data({"next", "1"})) == std::vector<std::string>{"baseline-incomplete"});
    script.run({"attach", "1", "before", "before.flac"});
    CHECK(rules(script.data({"next", "1"})) == std::vector<std::string>{"baseline-complete"});
}

void tell_high_look(const Script& script) {
    script.run({"holds", "1", "after", two_lost});
    CHECK(has(rules(script.data({"next", "1"})), "checks-first"));
    script.run({"marks", "1", "after", heavy_marks});
    script.run({"attach", "1", "after", "after.flac"});
    CHECK(script.data({"compare", "1", "after"}).at("verdict") == "different");
    script.run({"feel", "1", "after", "--numb", "yes", "--says", "comfortable", "--words", "still asleep"});
    const json next = script.data({"next", "1"});
    CHECK(has(rules(next), "restoration-high"));
    for (const json& step : next.at("next")) {
        if (step.at("rule") == "restoration-high") {
            CHECK(step.at("evidence").at(0) == "Lost elsewhere: the hold at 24/34 and 27/37.");
            CHECK(step.at("evidence").at(1) == "A mark stands out on the restoration of 26.");
            CHECK(step.at("evidence").at(2) == "In the sound the first contact leads earlier as well.");
        }
    }
    script.run(
        {"decide", "1", "adjust", "--look", "after", "--words", "a touch off the central fossa, on supervisor's word"});
}

void tell_settled_look(const Script& script) {
    script.run({"holds", "1", "after2", whole_holds});
    script.run({"marks", "1", "after2", even_marks_after});
    script.run({"attach", "1", "after2", "after2.flac"});
    CHECK(script.data({"compare", "1", "after2"}).at("verdict") == "alike");
    CHECK(rules(script.data({"next", "1"})) ==
          std::vector<std::string>{"ask-the-patient", "numb"}); // noted an hour ago
    script.run({"feel", "1", "after2", "--numb", "no", "--says", "comfortable"});
    CHECK(rules(script.data({"next", "1"})) == std::vector<std::string>{"done"});
}

std::string sign(const Script& script) {
    return script
        .data({"sign", "1", "--name", "B. Teacher", "--role", "supervising dentist", "--comment", "Seen and agreed."})
        .at("digest")
        .get<std::string>();
}

std::string tell_all(const Script& script) {
    unpack_sounds(script.folder());
    tell_baseline(script);
    tell_high_look(script);
    tell_settled_look(script);
    return sign(script);
}

} // namespace

TEST_CASE("a script drives a visit from baseline to sign-off, and each step says what is usually next") {
    const TempFolder folder;
    const Script script(folder.path());
    const std::string digest = tell_all(script);
    CHECK(digest.size() == 64);
    CHECK(contains(script.run({"verify", "1", "--digest", digest}), "It is the one that was noted."));
    const json visit = script.data({"show", "1"});
    CHECK(visit.at("format") == "retap.visit/1");
    CHECK(visit.at("closed") == true);
    CHECK(visit.at("signature").at("by") == "B. Teacher");
    REQUIRE(visit.at("looks").size() == 3);
    CHECK(visit.at("looks").at(1).at("changes").at(0) == "Holds were lost at 24/34 and 27/37.");
    CHECK(visit.at("looks").at(2).at("changes").at(0) == "Every pair that held before holds now, and no other does.");
    // what the record says of the sound is what compare says of the same files
    const json compared = json::parse(run_retap(folder.path(), {"compare", "before.flac", "after.flac", "--json"}).out);
    CHECK(visit.at("looks").at(1).at("comparison").at("likeness") == compared.at("likeness"));
    CHECK(visit.at("next").size() == rules(visit).size());
}

TEST_CASE("the report of that visit tells its story, and needs nothing but itself") {
    const TempFolder folder;
    const Script script(folder.path());
    const std::string digest = tell_all(script);
    script.run({"report", "1", "visit.html"});
    const std::string page = bytes_of(folder / "visit.html");
    for (const char* part :
         {"Holds were lost at 24/34 and 27/37.", "Central fossa", "A centric mark is now heavier than the rest",
          "a touch off the central fossa", "Every pair that held before holds now", "Feels comfortable.",
          "Signed by B. Teacher, supervising dentist", "Seen and agreed.", "Keep in mind", "data:audio/flac;base64,",
          "<svg"}) {
        CAPTURE(part);
        CHECK((contains(page, part) || contains(page, std::string(1, static_cast<char>(part[0] + 32)) + (part + 1))));
    }
    CHECK(contains(page, digest));
    CHECK_FALSE(contains(page, "http://"));
    CHECK_FALSE(contains(page, "https://"));
}

TEST_CASE("an exported visit arrives in another store with its digest, and a changed one does not") {
    const TempFolder folder;
    const Script here(folder.path());
    const Script there(folder.path(), "elsewhere.db");
    const std::string digest = tell_all(here);
    here.run({"export", "1", "visit.json"});
    CHECK(there.data({"import", "visit.json"}).at("visit") == 1);
    there.run({"verify", "1", "--digest", digest});
    CHECK(there.attempt({"import", "visit.json"}).status == 3); // it is there already

    json changed = json::parse(bytes_of(folder / "visit.json"));
    changed["entries"][1]["body"]["holds"] = "hold 17";
    put_bytes(folder / "changed.json", changed.dump());
    const Script third(folder.path(), "third.db");
    const Outcome refused = third.attempt({"import", "changed.json"});
    CHECK(refused.status == 3);
    CHECK(contains(refused.err, "Entry 2 (holds) is not what was written."));
    CHECK(third.data({"list"}).at("visits").empty());
    // 'show --json' has no sounds in it and says so when it is taken for an export
    put_bytes(folder / "shown.json", here.data({"show", "1"}).dump());
    CHECK(contains(third.attempt({"import", "shown.json"}).err, "use 'retap visit export'"));
}

TEST_CASE("a signed visit takes nothing more: every way of writing ends in status 3 and changes nothing") {
    const TempFolder folder;
    const Script script(folder.path());
    const std::string digest = tell_all(script);
    const std::vector<std::vector<std::string>> writes = {
        {"holds", "1", "after3", "hold 16"},
        {"marks", "1", "after3", "16 CF"},
        {"attach", "1", "after3", "before.flac"},
        {"feel", "1", "after2", "--says", "high"},
        {"decide", "1", "leave"},
        {"correct", "1", "2", "hold 16", "--reason", "x"},
        {"sign", "1", "--name", "C", "--role", "D"},
    };
    for (const auto& arguments : writes) {
        CAPTURE(arguments.front());
        const Outcome outcome = script.attempt(arguments);
        CHECK(outcome.status == 3);
        CHECK(contains(outcome.err, "was signed by B. Teacher and is closed"));
        CHECK(outcome.out.empty());
    }
    script.run({"verify", "1", "--digest", digest});
}

TEST_CASE("the demo visit is whole, signed, and says what its sounds say today") {
    const TempFolder folder;
    const Script script(folder.path());
    script.run({"import", demo_visit.string()});
    const json visit = script.data({"show", "1"});
    script.run({"verify", "1", "--digest", visit.at("digest").get<std::string>()});
    CHECK(visit.at("closed") == true);
    CHECK(visit.at("looks").at(1).at("comparison").at("verdict") == "different");
    CHECK(visit.at("looks").at(2).at("comparison").at("verdict") == "alike");
    CHECK(rules(visit) == std::vector<std::string>{"done"});
    const json again = script.data({"compare", "1", "after2"});
    CHECK(again.at("verdict") == "alike");
    script.run({"report", "1", "visit.html"});
    CHECK(contains(bytes_of(folder / "visit.html"), "I meet there first."));
}
