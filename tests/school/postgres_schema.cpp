#include "visit/postgres_schema.hpp"

#include "paths.hpp"
#include "server.hpp"
#include "temp_folder.hpp"
#include "visit/invented_visit.hpp"
#include "visit/open_store.hpp"
#include "visit/school.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;

TEST_CASE("a store of version 1 is brought up to date with everything in it, digests and all") {
    test::TestServer server;
    if (!server.there()) {
        return;
    }
    const std::string owner = server.address();
    test::RawPostgres raw(owner);
    const std::string script =
        test::bytes_of(std::filesystem::path(test::source_dir()) / "tests/school/fixtures/school_v1.sql");
    REQUIRE_FALSE(script.empty());
    REQUIRE(raw.run(script).empty());
    CHECK_THROWS_WITH(open_store(owner), doctest::Contains("is of version 1, this Retap writes"));
    const std::string address = server.clinic();
    const auto store = open_store(address);
    REQUIRE(store->list({}).size() == 1);
    CHECK(store->verify(1).empty());
    CHECK(store->load(1).digest() == raw.value("SELECT digest FROM retap.entry ORDER BY number DESC LIMIT 1"));
    CHECK(store->take(1, 2).flac == test::invented_take_content(1, 300).flac);
    const ClinicCheck check = verify_clinic(address);
    CHECK(check.faults.empty());
    CHECK(check.days.back().written == 3);
}
