#include "chairside/hearing_desk.hpp"

#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>
#include <set>
#include <string>

using namespace retap;
using namespace retap::chairside;
using namespace retap::test;
using report::Json;

namespace {

std::size_t number(const Json& state) {
    return state["number"].get<std::size_t>();
}

} // namespace

TEST_CASE("a test tells where it stands and nothing of what was right") {
    const TempFolder folder;
    HearingDesk desk(folder / "listening.csv");
    const Json state = desk.begin({.pairs = true, .learner = "seat-1", .pair_count = 2, .seed = 5});
    const std::string id = state["id"].get<std::string>();
    std::set<std::string> members;
    for (const auto& [name, value] : state.items()) {
        members.insert(name);
    }
    CHECK(members == std::set<std::string>{"id", "way", "finished", "number", "pairs", "starts", "result"});
    CHECK(state["result"].is_null());
    CHECK(state["starts"].size() == 2);
    CHECK(state["starts"][0].get<double>() == 0.0);
    CHECK(state["starts"][1].get<double>() > 0.5); // the pause alone is half a second
    CHECK(desk.sound(id, 0).starts_with("fLaC"));  // RFC 9639: the marker every FLAC stream begins with
    const Json next = desk.answer(id, 0, 1);
    CHECK(number(next) == 1);
    CHECK(next["result"].is_null());
    CHECK_FALSE(std::filesystem::exists(folder / "listening.csv"));
}

TEST_CASE("a second touch changes nothing, and what was heard before is over") {
    const TempFolder folder;
    HearingDesk desk(folder / "listening.csv");
    const std::string id = desk.begin({.pairs = true, .pair_count = 3, .seed = 5})["id"].get<std::string>();
    CHECK(number(desk.answer(id, 0, 1)) == 1);
    CHECK(number(desk.answer(id, 0, 0)) == 1);
    CHECK_THROWS_AS((void)desk.sound(id, 0), InputError);
    CHECK_THROWS_AS((void)desk.answer(id, 1, 2), InputError); // a pair has two answers
    CHECK(number(desk.state(id)) == 1);
    CHECK_THROWS_AS((void)desk.state("another"), InputError);
}

TEST_CASE("a finished test shows both results and is kept under its label, once") {
    const TempFolder folder;
    HearingDesk desk(folder / "listening.csv");
    const std::string id =
        desk.begin({.pairs = true, .learner = "seat-1", .height_um = 200.0, .pair_count = 2, .seed = 5})["id"]
            .get<std::string>();
    (void)desk.answer(id, 0, 1);
    const Json ended = desk.answer(id, 1, 1);
    CHECK(ended["finished"].get<bool>());
    CHECK(ended["result"]["keptAs"] == "seat-1");
    CHECK(ended["result"]["ear"].get<std::string>().find("Called 1 of 1 different pairs different, and 1 of 1 same") !=
          std::string::npos);
    CHECK(desk.answer(id, 1, 1) == ended);
    CHECK(desk.results().find("seat-1,same,50.0,2,1,") != std::string::npos);
    CHECK(bytes_of(folder / "listening.csv").find("seat-1") == bytes_of(folder / "listening.csv").rfind("seat-1"));
}

TEST_CASE("without a label nothing is kept, and a label that may be a name is refused") {
    const TempFolder folder;
    HearingDesk desk(folder / "listening.csv");
    const std::string id = desk.begin({.pairs = true, .pair_count = 2, .seed = 1})["id"].get<std::string>();
    (void)desk.answer(id, 0, 0);
    CHECK(desk.answer(id, 1, 0)["result"]["keptAs"].is_null());
    CHECK_FALSE(std::filesystem::exists(folder / "listening.csv"));
    CHECK_THROWS_AS((void)desk.begin({.learner = "A Name"}), UsageError);
    CHECK_THROWS_AS((void)desk.begin({.pairs = true, .height_um = 0.0}), InputError);
}

TEST_CASE("a result that cannot be written is shown all the same, with the reason") {
    const TempFolder folder;
    put_bytes(folder / "in-the-way", "a file");
    HearingDesk desk(folder / "in-the-way" / "listening.csv");
    const std::string id =
        desk.begin({.pairs = true, .learner = "seat-1", .pair_count = 2, .seed = 1})["id"].get<std::string>();
    (void)desk.answer(id, 0, 0);
    const Json result = desk.answer(id, 1, 0)["result"];
    CHECK(result["keptAs"].is_null());
    CHECK(result["notes"].back().get<std::string>().find("Cannot keep the result") != std::string::npos);
}

TEST_CASE("tests that were left are forgotten once four newer ones were begun") {
    const TempFolder folder;
    HearingDesk desk(folder / "listening.csv");
    const std::string first = desk.begin({.pairs = true, .pair_count = 2, .seed = 1})["id"].get<std::string>();
    for (std::uint64_t seed = 2; seed < 5; ++seed) {
        (void)desk.begin({.pairs = true, .pair_count = 2, .seed = seed});
    }
    CHECK_NOTHROW((void)desk.state(first));
    (void)desk.begin({.pairs = true, .pair_count = 2, .seed = 6});
    CHECK_THROWS_AS((void)desk.state(first), InputError);
}
