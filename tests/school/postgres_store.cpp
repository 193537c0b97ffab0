#include "visit/postgres_store.hpp"

#include "error.hpp"
#include "server.hpp"
#include "temp_folder.hpp"
#include "visit/invented_visit.hpp"
#include "visit/open_store.hpp"
#include "visit/postgres_address.hpp"
#include "visit/postgres_schema.hpp"
#include "visit/school.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <sys/stat.h>
#include <thread>

using namespace retap;
using namespace retap::visit;
using test::before;

TEST_CASE("a server that is away, a database that is not there and a password that is wrong are told apart") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    CHECK_THROWS_WITH_AS(open_store("postgresql://owner@/clinic?host=/nonexistent"),
                         doctest::Contains("No server answers there: check the address"), StoreError);
    CHECK_THROWS_WITH_AS(open_store("postgresql://owner@/no_such?host=" + server.folder()),
                         doctest::Contains("lets nobody in like this"), StoreError);
    const std::string address = server.address();
    (void)test::RawPostgres(address).run("DROP ROLE IF EXISTS locked; CREATE ROLE locked LOGIN PASSWORD 'right'");
    std::string locked = server.address("locked:wrong");
    try {
        (void)open_store(locked);
        FAIL("a wrong password opened it");
    } catch (const StoreError& error) {
        const std::string says = error.what();
        CHECK(says.find("lets nobody in like this: check login, password") != std::string::npos);
        CHECK(says.find("wrong@") == std::string::npos); // nor is it shown to who looks over the shoulder
        CHECK(says.find("'postgresql://locked@") != std::string::npos);
    }
    CHECK_THROWS_WITH_AS(open_store("postgresql://owner@/clinic?no_such_word=1"),
                         doctest::Contains("--store is no address of a PostgreSQL server"), UsageError);
}

TEST_CASE("the password comes from the file for passwords, and the address from the file of services") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.address();
    set_up_server(address);
    test::RawPostgres owner(address);
    const std::string database = owner.value("SELECT current_database()");
    (void)owner.run("DROP ROLE IF EXISTS locked_too; CREATE ROLE locked_too LOGIN SUPERUSER PASSWORD 'right'");
    const test::TempFolder folder;
    test::put_bytes(folder / "pass", "*:*:*:locked_too:right\n");
    chmod((folder / "pass").c_str(), 0600);
    test::put_bytes(folder / "services",
                    "[clinic]\nhost=" + server.folder() + "\ndbname=" + database + "\nuser=locked_too\n");
    setenv("PGPASSFILE", (folder / "pass").c_str(), 1);
    setenv("PGSERVICEFILE", (folder / "services").c_str(), 1);
    const auto store = open_store("postgresql://?service=clinic");
    CHECK(store->list({}).empty());
    unsetenv("PGPASSFILE");
    unsetenv("PGSERVICEFILE");
}

TEST_CASE("a connection that leaves this computer has to show a certificate, unless the address says otherwise") {
    for (const char* here :
         {"postgresql://a@localhost/d", "postgresql://a@127.0.0.1/d", "postgresql://a@[::1]/d",
          "postgresql:///d?host=/run/postgresql", "postgresql:///d", "postgresql://clinic.invalid/d?hostaddr=127.0.0.1",
          "postgresql://localhost,127.0.0.2/d"}) {
        CAPTURE(here);
        CHECK(PostgresAddress(here).on_this_computer());
    }
    for (const char* elsewhere :
         {"postgresql://a@clinic.invalid/d", "postgresql://a@192.0.2.7/d", "postgresql://localhost,clinic.invalid/d",
          "postgresql://?service=clinic", "postgresql://localhost/d?hostaddr=192.0.2.7"}) {
        CAPTURE(elsewhere);
        CHECK_FALSE(PostgresAddress(elsewhere).on_this_computer());
    }
    // The address is one kept for documentation (RFC 5737): nothing is there. What counts is what was asked for.
    unsetenv("PGSSLMODE");
    CHECK_THROWS_AS(open_store("postgresql://a@192.0.2.7/d?connect_timeout=2"), StoreError);
    CHECK(std::string(std::getenv("PGSSLMODE")) == "verify-full");
    setenv("PGSSLMODE", "require", 1);
    CHECK_THROWS_AS(open_store("postgresql://a@192.0.2.7/d?connect_timeout=2"), StoreError);
    CHECK(std::string(std::getenv("PGSSLMODE")) == "require");
    unsetenv("PGSSLMODE");
}

TEST_CASE("a database without our tables is told so, and one set up by a newer program is refused and left alone") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.address();
    CHECK_THROWS_WITH_AS(open_store(address), doctest::Contains("retap school init --store ADDRESS"), StoreError);
    set_up_server(address);
    set_up_server(address); // changes nothing
    CHECK(test::RawPostgres(address).value("SELECT count(*) FROM retap.version") ==
          std::to_string(postgres_schema_version));
    REQUIRE(test::RawPostgres(address).run("INSERT INTO retap.version VALUES (99)").empty());
    CHECK_THROWS_WITH_AS(open_store(address), doctest::Contains("was set up by a newer Retap (store version 99"),
                         StoreError);
    CHECK_THROWS_WITH_AS(set_up_server(address), doctest::Contains("Use the newer program."), StoreError);
}

TEST_CASE("a database that does not keep UTF-8 is not set up") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string usual = server.address();
    test::RawPostgres owner(usual);
    const std::string name = owner.value("SELECT current_database()") + "_latin";
    REQUIRE(owner.run("CREATE DATABASE " + name + " TEMPLATE template0 ENCODING 'LATIN1'").empty());
    CHECK_THROWS_WITH_AS(set_up_server("postgresql://owner@/" + name + "?host=" + server.folder()),
                         doctest::Contains("does not keep texts as UTF-8"), StoreError);
    (void)owner.run("DROP DATABASE " + name);
}

TEST_CASE("entries, takes and tombstones are not changed on the server either") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.clinic();
    const auto store = open_store(address);
    const VisitId id = store->open_visit(test::morning, test::filling_on_16());
    store->add_take(id, before, test::morning, test::take_named("x"), test::invented_take_content());
    store->add(id, test::signature());
    test::RawPostgres raw(server.address()); // the owner, whom no right stops
    for (const char* sql :
         {"UPDATE retap.entry SET by = 'x'", "UPDATE retap.take SET analysis = ''", "UPDATE retap.sound SET bytes = ''",
          "DELETE FROM retap.sound", "DELETE FROM retap.take", "DELETE FROM retap.entry", "DELETE FROM retap.visit",
          "INSERT INTO retap.entry SELECT visit_id, 9, kind, look, at, by, corrects, reason, body, "
          "digest, inherited, person FROM retap.entry WHERE number = 1"}) {
        CAPTURE(sql);
        CHECK_FALSE(raw.run(sql).empty());
    }
    CHECK(store->verify(id).empty());
    (void)store->erase(id, test::morning, "test");
    CHECK(raw.value("SELECT count(*) FROM retap.sound") == "0");
    CHECK_FALSE(raw.run("DELETE FROM retap.erased").empty());
    CHECK_FALSE(raw.run("UPDATE retap.erased SET reason = ''").empty());
}

TEST_CASE("changes that somebody made with the server's own tools show") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.clinic();
    const auto store = open_store(address);
    const VisitId id = store->open_visit(test::morning, test::filling_on_16());
    store->add_take(id, before, test::morning, test::take_named("x"), test::invented_take_content(1, 600000));
    store->add(id, test::signature());
    REQUIRE(store->verify(id).empty());
    test::RawPostgres raw(server.address()); // the owner, whom no right stops
    for (const char* table : {"entry", "take", "sound"}) {
        REQUIRE(raw.run("ALTER TABLE retap." + std::string(table) + " DISABLE TRIGGER ALL").empty());
    }
    const auto shows = [&](const std::string& change, const std::string& back) {
        CAPTURE(change);
        REQUIRE(raw.run(change).empty());
        CHECK_FALSE(store->verify(id).empty());
        REQUIRE(raw.run(back).empty());
        CHECK(store->verify(id).empty());
    };
    shows("UPDATE retap.entry SET by = 'B. Other' WHERE number = 3",
          "UPDATE retap.entry SET by = 'B. Teacher' WHERE number = 3");
    shows("UPDATE retap.sound SET part = 9 WHERE part = 1", "UPDATE retap.sound SET part = 1 WHERE part = 9");
    shows("UPDATE retap.visit SET label = 'C-1043'", "UPDATE retap.visit SET label = 'C-1042'");
    shows("UPDATE retap.take SET settings = '{ }'", "UPDATE retap.take SET settings = '{}'");
}

TEST_CASE("two programs that write to one visit at the same moment keep both entries, in order") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.clinic();
    const auto one = open_store(address);
    const VisitId id = one->open_visit(test::morning, test::filling_on_16());
    constexpr int each = 15;
    const auto write = [&](const std::string& who) {
        const auto own = open_store(address);
        for (int i = 0; i < each; ++i) {
            own->add(id, {test::at(i, who), before, {}, FeelNoted{false, chart::Feel::high, who}});
        }
    };
    std::thread other([&] { write("A. Student"); });
    write("C. Other");
    other.join();
    CHECK(one->load(id).entries.size() == 1 + 2 * each);
    CHECK(one->verify(id).empty());
}

TEST_CASE("a connection that was cut is made again, and a write that it cut was done wholly or not at all") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string address = server.clinic();
    const auto store = open_store(address);
    const VisitId id = store->open_visit(test::morning, test::filling_on_16());
    test::RawPostgres raw(server.address()); // the owner, whom no right stops
    const auto cut = [&] {
        (void)raw.run("SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity "
                      "WHERE application_name = 'retap' AND datname = current_database()");
    };
    cut();
    CHECK(store->list({}).size() == 1);
    cut();
    CHECK(store->add(id, test::feel(before, true, chart::Feel::high)) == 2);
    cut();
    CHECK(store->load(id).entries.size() == 2);
    CHECK(store->verify(id).empty());
}
