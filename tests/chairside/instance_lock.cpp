#include "chairside/instance_lock.hpp"

#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <sys/stat.h>

using namespace retap;
using chairside::InstanceLock;

TEST_CASE("A second server of one store finds the port of the first; after its end the store is free") {
    const test::TempFolder folder;
    const auto store = folder.path() / "visits.db";
    {
        InstanceLock first(store);
        CHECK(first.held());
        first.publish(4711);
        const InstanceLock second(store);
        CHECK_FALSE(second.held());
        CHECK(second.port() == 4711);
        CHECK(InstanceLock(folder.path() / "other.db").held());
    }
    const InstanceLock later(store);
    CHECK(later.held());
    CHECK(later.port() == 0);
}

TEST_CASE("The file with the port is private to the user") {
    const test::TempFolder folder;
    const InstanceLock lock(folder.path() / "visits.db");
    struct stat about {};
    REQUIRE(stat((folder.path() / "visits.db.chairside").c_str(), &about) == 0);
    CHECK((about.st_mode & 0777U) == 0600);
}

TEST_CASE("A folder that is not there is an error that names the file") {
    CHECK_THROWS_WITH_AS(InstanceLock("/nowhere/at/all/visits.db"), doctest::Contains("visits.db.chairside"),
                         StoreError);
}
