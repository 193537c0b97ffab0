// Who may do what on the server, tried as each of them, and what the clinic's chain shows.
#include "visit/postgres_school.hpp"

#include "error.hpp"
#include "server.hpp"
#include "temp_folder.hpp"
#include "visit/carry.hpp"
#include "visit/invented_visit.hpp"
#include "visit/open_store.hpp"
#include "visit/sha256.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::before;

namespace {

NewEntry signed_by(const std::string& name) {
    return test::signature(name);
}

bool one_fault(const ClinicCheck& check, const std::string& words) {
    CAPTURE(words);
    for (const std::string& fault : check.faults) {
        CAPTURE(fault);
        CHECK(fault.find(words) != std::string::npos);
    }
    return check.faults.size() == 1;
}

} // namespace

TEST_CASE("a student writes their own visits, sees no others, and does not sign") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string one = server.person("A. Student", ClinicRole::student);
    const std::string two = server.person("C. Other", ClinicRole::student);
    const auto own = open_store(one);
    const VisitId id = own->open_visit(test::morning, test::filling_on_16());
    own->add_take(id, before, test::morning, test::take_named("x"), test::invented_take_content());
    CHECK(own->add(id, test::holds(before, "hold 16 17 26")) == 3);
    CHECK(own->verify(id).empty());
    CHECK_THROWS_WITH_AS(own->add(id, signed_by("A. Student")), doctest::Contains("only a supervisor signs"),
                         StoreError);
    CHECK_THROWS_WITH_AS((void)own->erase(id, test::morning, "x"), doctest::Contains("only the coordinator erases"),
                         StoreError);
    CHECK(own->load(id).entries.size() == 3);

    const auto other = open_store(two);
    CHECK(other->list({}).empty());
    CHECK_THROWS_AS((void)other->load(id), InputError);
    CHECK_THROWS_AS(other->add(id, test::feel(before, true, chart::Feel::high)), InputError);
    CHECK_THROWS_AS((void)other->take(id, 2), InputError);
    // nor past the program
    test::RawPostgres raw(two);
    CHECK(raw.value("SELECT count(*) FROM retap.visit") == "0");
    CHECK(raw.value("SELECT count(*) FROM retap.entry") == "0");
    CHECK(raw.value("SELECT count(*) FROM retap.take") == "0");
    CHECK(raw.value("SELECT count(*) FROM retap.sound") == "0");
    const std::string into = "INSERT INTO retap.entry (visit_id, number, kind, at, by, body, digest) VALUES (" +
                             std::to_string(id) + ", 4, 'feel', 'a', 'b', 'c', 'd')";
    CHECK(raw.run(into).find("row-level security") != std::string::npos);
    CHECK(raw.run("INSERT INTO retap.visit (uid, label, procedure, teeth, numbering, worker, supervisor, opened_at, "
                  "changed_at, state, owner) VALUES ('u', '', '', '', '', '', '', '', '', 'open', 'somebody')")
              .find("row-level security") != std::string::npos);
    CHECK(raw.run("SELECT * FROM retap.journal").find("permission denied") != std::string::npos);
}

TEST_CASE("nobody changes or removes an entry, whoever they are, also past the program") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string everything = server.clinic();
    const auto store = open_store(everything);
    const VisitId id = store->open_visit(test::morning, test::filling_on_16());
    store->add_take(id, before, test::morning, test::take_named("x"), test::invented_take_content());
    test::RawPostgres raw(everything);
    for (const char* sql : {"UPDATE retap.entry SET by = 'x'",
                            "UPDATE retap.take SET analysis = ''",
                            "UPDATE retap.sound SET bytes = ''",
                            "UPDATE retap.visit SET owner = 'x'",
                            "UPDATE retap.visit SET uid = 'x'",
                            "UPDATE retap.erased SET by = 'x'",
                            "UPDATE retap.journal SET person = 'x'",
                            "DELETE FROM retap.entry",
                            "DELETE FROM retap.take",
                            "DELETE FROM retap.sound",
                            "DELETE FROM retap.visit",
                            "DELETE FROM retap.journal",
                            "DELETE FROM retap.erased",
                            "INSERT INTO retap.erased VALUES (1, 'u', 'a', 'b', 'r', 'd')",
                            "TRUNCATE retap.sound",
                            "INSERT INTO retap.journal VALUES (9, 'd', 'u', 1, 'e', 'p', 'x')",
                            "UPDATE retap.person SET name = 'x'",
                            "INSERT INTO retap.person VALUES ('x', 'x')",
                            "ALTER TABLE retap.entry DISABLE TRIGGER ALL",
                            "SELECT retap.note('u', 1, 'd', 'p')",
                            "DROP TABLE retap.journal CASCADE"}) {
        CAPTURE(sql);
        const std::string why = raw.run(sql);
        const bool refused =
            why.find("permission denied") != std::string::npos || why.find("must be owner") != std::string::npos;
        CHECK(refused);
    }
    CHECK(store->verify(id).empty());
    CHECK(verify_clinic(everything).faults.empty());
}

TEST_CASE("a supervisor signs any visit of the clinic, in their own name alone, and writes nothing else into it") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const auto student = open_store(server.person("A. Student", ClinicRole::student));
    const std::string teacher = server.person("B. Teacher", ClinicRole::supervisor);
    const auto supervisor = open_store(teacher);
    const VisitId id = student->open_visit(test::morning, test::filling_on_16());
    CHECK(supervisor->list({}).size() == 1);
    CHECK_THROWS_WITH_AS(supervisor->add(id, signed_by("D. Dean")),
                         doctest::Contains("you are here as B. Teacher and cannot sign as D. Dean"), StoreError);
    CHECK_THROWS_WITH_AS(supervisor->add(id, test::feel(before, true, chart::Feel::high)),
                         doctest::Contains("Your login may not do this."), StoreError);
    CHECK(supervisor->add(id, signed_by("B. Teacher")) == 2);
    CHECK_THROWS_AS((void)supervisor->erase(id, test::morning, "x"), StoreError);
    CHECK(student->load(id).signature->stamp.by == "B. Teacher");
    CHECK(student->verify(id).empty());
    // The login that the server has checked stands beside the name, whatever was sent with the entry.
    test::RawPostgres raw(server.address());
    CHECK(raw.value("SELECT person FROM retap.entry WHERE kind = 'signed'").starts_with("supervisor"));
    CHECK(raw.value("SELECT person FROM retap.entry WHERE kind = 'opened'").starts_with("student"));
    CHECK(verify_clinic(teacher).faults.empty());
}

TEST_CASE("the coordinator erases and nothing more, and what they erased stays told of") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const auto student = open_store(server.person("A. Student", ClinicRole::student));
    const std::string coordinating = server.person("E. Coordinator", ClinicRole::coordinator);
    const auto coordinator = open_store(coordinating);
    const VisitId kept = student->open_visit(test::morning, test::filling_on_16());
    const VisitId id = student->open_visit(test::morning, test::filling_on_16());
    student->add_take(id, before, test::morning, test::take_named("x"), test::invented_take_content());
    const std::string digest = student->load(id).digest();
    CHECK_THROWS_AS(coordinator->add(kept, test::feel(before, true, chart::Feel::high)), StoreError);
    CHECK_THROWS_AS(coordinator->open_visit(test::morning, test::filling_on_16()), StoreError);
    const Tombstone stone = coordinator->erase(id, test::at(9, "E. Coordinator"), "asked for by the patient");
    CHECK(stone.digest == digest);
    CHECK_THROWS_WITH_AS((void)student->load(id), doctest::Contains("was erased on 2031-05-14 by E. Coordinator"),
                         InputError);
    REQUIRE(coordinator->erased().size() == 1);
    CHECK(coordinator->erased().at(0).digest == digest);
    const ClinicCheck check = verify_clinic(coordinating);
    CHECK(check.faults.empty());
    REQUIRE_FALSE(check.days.empty());
    CHECK(check.days.back().written == 4); // two openings, a take, an erasure
}

TEST_CASE("a student takes back a visit that was opened by mistake, and no visit that holds something") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string login = server.person("A. Student", ClinicRole::student);
    const auto store = open_store(login);
    const VisitId empty = store->open_visit(test::morning, test::filling_on_16());
    const VisitId full = store->open_visit(test::morning, test::filling_on_16());
    store->add(full, test::feel(before, true, chart::Feel::high));
    (void)store->discard(empty, test::morning);
    CHECK(store->list({}).size() == 1);
    CHECK_THROWS_AS((void)store->discard(full, test::morning), InputError);
    test::RawPostgres raw(login);
    CHECK(raw.run("SELECT retap.erase_visit(" + std::to_string(full) + ", 'a', 'b', 'c')")
              .find("only the coordinator erases") != std::string::npos);
}

TEST_CASE("who is no person of the clinic writes nothing, and a login without rights is told so") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.address();
    set_up_server(address);
    CHECK_THROWS_WITH_AS(open_store(address)->open_visit(test::morning, test::filling_on_16()),
                         doctest::Contains("is not that of a person of this clinic"), StoreError);
    test::RawPostgres owner(address);
    (void)owner.run("CREATE ROLE locked_out LOGIN");
    CHECK_THROWS_WITH_AS(open_store(server.address("locked_out")),
                         doctest::Contains("Your login may not do this. Who looks after the store gives rights"),
                         StoreError);
    CHECK_THROWS_AS(add_person(address, {"Robert'); DROP", "R. Tables", {ClinicRole::student}}), UsageError);
    CHECK_THROWS_AS(add_person(address, {"robert", " ", {ClinicRole::student}}), UsageError);
}

TEST_CASE("a person keeps the name that they signed with, and no two have the same") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string owner = server.address();
    const std::string address = server.person("B. Teacher", ClinicRole::supervisor);
    const auto there = persons(owner);
    REQUIRE(there.size() == 1);
    CHECK(there[0].name == "B. Teacher");
    CHECK(there[0].roles == std::vector{ClinicRole::supervisor});
    CHECK_THROWS_AS(add_person(owner, {there[0].login, "D. Dean", {ClinicRole::student}}), InputError);
    CHECK_THROWS_AS(add_person(owner, {there[0].login + "x", "B. Teacher", {ClinicRole::student}}), InputError);
    add_person(owner, {there[0].login, "B. Teacher", {ClinicRole::coordinator}});
    CHECK(persons(owner)[0].roles == std::vector{ClinicRole::supervisor, ClinicRole::coordinator});
    CHECK_THROWS_AS(add_person(address, {"friend", "F. Friend", {ClinicRole::supervisor}}), StoreError);
}

TEST_CASE("a link of the clinic's chain is what its description says") {
    // Written out by hand from the description in postgres_school.hpp.
    CHECK(clinic_digest("", "2031-05-14", "u1", 1, "d1", "p1") ==
          sha256("retap.day/1\n0:\n10:2031-05-14\n2:u1\n1:1\n2:d1\n2:p1\n"));
}

TEST_CASE("what is taken out or changed past the program shows in the check of the clinic") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string everything = server.clinic();
    const auto store = open_store(everything);
    const VisitId one = store->open_visit(test::morning, test::filling_on_16());
    const VisitId two = store->open_visit(test::morning, test::filling_on_16());
    store->add(two, test::feel(before, true, chart::Feel::high));
    const std::string uid_of_two = store->load(two).uid;
    test::RawPostgres raw(server.address());
    REQUIRE(verify_clinic(everything).faults.empty());
    const auto found = [&](const std::string& change, const std::string& words) {
        CAPTURE(change);
        // An owner who means harm: everything that stands in the way is put aside, and put back afterwards.
        REQUIRE(raw.run("BEGIN; SET LOCAL session_replication_role = replica; " + change + "; COMMIT").empty());
        CHECK(one_fault(verify_clinic(everything), words));
    };
    REQUIRE(
        raw.run("CREATE TABLE kept AS SELECT * FROM retap.journal; CREATE TABLE entries AS SELECT * FROM retap.entry;"
                "CREATE TABLE visits AS SELECT * FROM retap.visit")
            .empty());
    const std::string back =
        "; SET LOCAL session_replication_role = replica; DELETE FROM retap.journal; INSERT INTO retap.journal SELECT * "
        "FROM kept; DELETE FROM retap.entry; INSERT INTO retap.entry SELECT * FROM entries; DELETE FROM retap.visit; "
        "INSERT INTO retap.visit OVERRIDING SYSTEM VALUE SELECT * FROM visits";
    const std::string number = std::to_string(two);
    found("DELETE FROM retap.entry WHERE visit_id = " + number + "; DELETE FROM retap.visit WHERE id = " + number,
          "The visit " + uid_of_two + ", begun on ");
    found("SELECT 1" + back + "; DELETE FROM retap.entry WHERE number = 2", "Entry 2 of the visit " + uid_of_two);
    found("SELECT 1" + back + "; UPDATE retap.entry SET person = 'somebody' WHERE number = 2",
          "is not what was written");
    found("SELECT 1" + back + "; UPDATE retap.entry SET digest = 'd' WHERE number = 2", "is not what was written");
    found("SELECT 1" + back + "; UPDATE retap.journal SET day = '2001-01-01' WHERE seq = 1",
          "The journal of the clinic is not what was written");
    found("SELECT 1" + back + "; DELETE FROM retap.journal WHERE seq = 1; DELETE FROM retap.entry WHERE visit_id = " +
              std::to_string(one) + "; DELETE FROM retap.visit WHERE id = " + std::to_string(one),
          "The journal of the clinic lacks what stood before");
    found("SELECT 1" + back +
              "; INSERT INTO retap.entry SELECT visit_id, 3, kind, look, at, by, corrects, reason, body, digest, "
              "inherited, person FROM retap.entry WHERE number = 2",
          "was written past the journal");
    REQUIRE(raw.run("BEGIN" + back + "; COMMIT").empty());
    CHECK(verify_clinic(everything).faults.empty());
}

TEST_CASE("what was signed at the chair goes up to the signature, which the supervisor gives with their own login") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const test::TempFolder folder;
    const std::string file = (folder / "chair.db").string();
    const auto chair = open_store(file);
    const VisitId id = chair->open_visit(test::morning, test::filling_on_16());
    chair->add(id, test::feel(before, true, chart::Feel::high));
    chair->add(id, signed_by("B. Teacher"));
    const auto here = open_carry_end(file);
    const auto clinic = open_carry_end(server.person("A. Student", ClinicRole::student));
    CarryNotes notes;
    CarryReport report = carry(*here, *clinic, notes);
    CHECK(report.up == 2);
    REQUIRE(report.told.size() == 1);
    CHECK(report.told[0].find("kept here from entry 3 on") != std::string::npos);
    CHECK(report.told[0].find("only a supervisor signs") != std::string::npos);
    const auto supervisor = open_store(server.person("B. Teacher", ClinicRole::supervisor));
    const VisitId there = supervisor->list({}).at(0).id;
    supervisor->add(there, {test::at(30, "B. Teacher"), {}, {}, Signed{"supervising dentist", "Seen at the desk."}});
    report = carry(*here, *clinic, notes);
    CHECK(report.up == 0);
    REQUIRE(report.told.size() == 1);
    CHECK(report.told[0].find("is signed here by B. Teacher and in the clinic by B. Teacher") != std::string::npos);
    CHECK(supervisor->list({}).size() == 1);
}
