#include "report/visit_json.hpp"

#include "error.hpp"
#include "temp_folder.hpp"
#include "visit/invented_visit.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::before;

namespace {

/// A signed visit with a correction and a take on each side, in a store of its own.
struct Told {
    test::TempFolder folder;
    SqliteStore store{folder / "visits.db"};
    VisitId id = store.open_visit(test::morning, test::filling_on_16());

    Told() {
        store.add(id, test::holds(before, "hold 17 16 26; slide 14"));
        store.add(id, test::correcting(2, test::holds(before, "hold 17 16; slide 14 26")));
        store.add(id, test::marks(after, "centric 16 CF+* 26 MB/in-; working none"));
        store.add_take(id, before, test::at(1), test::take_named("b.wav"), test::invented_take_content(1));
        store.add_take(id, after, test::at(2), test::take_named("a.wav"), test::invented_take_content(2));
        store.add(id, test::feel(after, std::nullopt, chart::Feel::high, "h\u00F6her \"so\"\nund so"));
        store.add(id, test::signature());
    }
    report::Json exported() { return report::export_json(store.load(id), store.pack(id)); }
};

} // namespace

TEST_CASE("what is exported is read back to the same parcel, to the byte") {
    Told told;
    const Parcel packed = told.store.pack(told.id);
    const Parcel read = report::parcel_from(report::json_text(told.exported()), "x.json");
    CHECK(read.uid == packed.uid);
    REQUIRE(read.entries.size() == packed.entries.size());
    for (std::size_t i = 0; i < read.entries.size(); ++i) {
        CHECK(read.entries[i].digest == packed.entries[i].digest);
        CHECK(fields_of(read.entries[i].body) == fields_of(packed.entries[i].body));
    }
    REQUIRE(read.takes.size() == 2);
    CHECK(read.takes[1].second.flac == packed.takes[1].second.flac);
    CHECK(read.takes[1].second.analysis == packed.takes[1].second.analysis);
    SqliteStore other(told.folder / "other.db");
    CHECK(other.verify(other.unpack(read)).empty());
}

TEST_CASE("a visit as JSON has its charts as data, in ISO numbering whatever the clinic uses") {
    Told told;
    Opened universal = test::filling_on_16();
    universal.numbering = chart::Numbering::universal;
    const VisitId id = told.store.open_visit(test::morning, universal);
    told.store.add(id, test::holds(before, "hold 16 25/36"));
    told.store.add(id, test::holds(after, "open 16; hold 25/36"));
    const report::Json json = report::visit_json(told.store.load(id));
    CHECK(json.begin().key() == "format");
    CHECK(json.at("numbering") == "universal");
    CHECK(json.at("treated") == report::Json::array({"16"}));
    const report::Json& holds = json.at("looks").at(0).at("holds");
    CHECK(holds.at("text") == "hold 16 25/36");
    CHECK(holds.at("pairs").at(1).at("upper") == "25");
    CHECK(holds.at("pairs").at(1).at("lower") == "36");
    CHECK(holds.at("spread").at("right").at("holds") == 1);
    // sentences are the clinic's
    CHECK(json.at("looks").at(1).at("changes").at(0) == "A hold was lost at 3/30.");
    CHECK(json.at("looks").at(0).at("changes").is_null());
}

TEST_CASE("what was not done is null, and marks carry what they are") {
    Told told;
    const report::Json json = report::visit_json(told.store.load(told.id));
    const report::Json& look = json.at("looks").at(1);
    CHECK(look.at("holds").is_null());
    CHECK(look.at("comparison").is_null());
    CHECK(look.at("feel").at("numb").is_null());
    CHECK(look.at("feel").at("words") == "h\u00F6her \"so\"\nund so");
    CHECK(look.at("marks").at("stages") == report::Json::array({"centric", "working"}));
    const report::Json& mark = look.at("marks").at("marks").at(1);
    CHECK(mark.at("tooth") == "26");
    CHECK(mark.at("place") == "MB/in");
    CHECK(mark.at("on_incline") == true);
    CHECK(mark.at("weight") == "light");
    CHECK(mark.at("on_restoration") == false);
    CHECK_FALSE(json.contains("sounds"));
}

TEST_CASE("entries are all there, corrected ones too, and say what they correct") {
    Told told;
    const report::Json json = report::visit_json(told.store.load(told.id));
    REQUIRE(json.at("entries").size() == 8);
    CHECK(json.at("entries").at(1).at("body").at("holds") == "hold 17 16 26; slide 14");
    CHECK(json.at("entries").at(2).at("corrects") == 2);
    CHECK(json.at("entries").at(2).at("reason") == "typed wrongly");
    CHECK(json.at("digest") == json.at("entries").at(7).at("digest"));
    CHECK(json.at("signature").at("role") == "supervising dentist");
}

TEST_CASE("a list has one line per visit with where it has got to") {
    Told told;
    (void)told.store.open_visit(test::at(30), test::filling_on_16());
    const report::Json list = report::visits_json(told.store.list({})).at("visits");
    REQUIRE(list.size() == 2);
    CHECK(list.at(0).at("latest_look").is_null());
    CHECK(list.at(1).at("latest_look") == "after");
    CHECK(list.at(1).at("closed") == true);
}

TEST_CASE("the table of rules is printed whole") {
    CHECK(report::rules_json().at("rules").size() == chart::next_rules().size());
    CHECK(report::rules_json().at("mnemonics").at(0).at("letters").size() == 4);
}

TEST_CASE("every rule is printed with its source and with what it holds back, and every letter rule with its source") {
    const report::Json json = report::rules_json();
    for (const report::Json& rule : json.at("rules")) {
        CHECK_FALSE(rule.at("source").get<std::string>().empty());
        CHECK_FALSE(rule.at("blocks").get<std::string>().empty());
    }
    for (const report::Json& mnemonic : json.at("mnemonics")) {
        CHECK_FALSE(mnemonic.at("source").get<std::string>().empty());
        CHECK_FALSE(mnemonic.at("disputed").get<std::string>().empty());
    }
    CHECK(json.at("steps").size() == chart::steps_with_how_to().size());
    CHECK(json.at("warning_signs").size() == chart::warning_signs.size());
}

TEST_CASE("what is next names the first step with its look, and each listed mark with what can be said of it") {
    Told told;
    const visit::VisitId id = told.store.open_visit(test::at(20), test::filling_on_16());
    const std::string film = "hold 17..14 24..27; open 13..23";
    told.store.add(id, test::holds(before, film));
    told.store.add(id, test::marks(before, "centric 16 MP 26 MP"));
    told.store.add(id, test::holds(after, film));
    told.store.add(id, test::marks(after, "centric 16 MP* 26 MP; non-working 47 DB/in"));
    const report::Json json = report::visit_json(told.store.load(id));
    CHECK(json.at("first_step").at("step") == "record");
    CHECK(json.at("first_step").at("look") == "after");
    bool listed = false;
    for (const report::Json& advice : json.at("next")) {
        if (advice.at("rule") == "non-working-marks") {
            listed = true;
            const report::Json& mark = advice.at("marks").at(0);
            CHECK(mark.at("tooth") == "47");
            CHECK(mark.at("role") == "supporting");
            CHECK(mark.at("side") == "right");
            CHECK(mark.at("movement") == "sliding to the left");
            CHECK(mark.at("named_by") == report::Json::array({"LUBL"}));
            CHECK(mark.at("not_named_by") == report::Json::array({"MUDL"}));
            CHECK(mark.at("treated") == false);
        }
    }
    CHECK(listed);
}

TEST_CASE("agreement without cases is null, not a number") {
    const report::Json json = report::agreement_json(chart::agreement_on_holds({}, {}));
    CHECK(json.at("observed").is_null());
    CHECK(json.at("kappa").is_null());
    CHECK(json.at("cases") == 0.0);
}

TEST_CASE("every cut and every damaged byte of an export is refused or read as it was written (120 places, seed 3)") {
    Told told;
    const std::string whole = report::json_text(told.exported(), report::JsonLayout::one_line);
    const std::string digest = told.store.load(told.id).digest();
    std::uint64_t state = 3;
    const auto random = [&state] { return state = state * 6364136223846793005ULL + 1442695040888963407ULL; };
    int refused = 0;
    for (int round = 0; round < 120; ++round) {
        std::string text = whole;
        const std::size_t at = (random() >> 33U) % text.size();
        if (round % 4 == 0) {
            text.resize(at);
        } else {
            text[at] = static_cast<char>(text[at] ^ static_cast<char>(1 << (round % 7)));
        }
        CAPTURE(round);
        SqliteStore other(told.folder / ("other" + std::to_string(round) + ".db"));
        try {
            const VisitId id = other.unpack(report::parcel_from(text, "x.json"));
            // what got through was damaged outside of what counts: in the parts that are for readers only
            REQUIRE(other.load(id).digest() == digest);
            REQUIRE(other.verify(id).empty());
        } catch (const InputError&) {
            REQUIRE(other.list({}).empty());
            ++refused;
        }
    }
    CHECK(refused > 60);
}
