#include "visit/store_place.hpp"

#include "environment.hpp"
#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <sys/stat.h>

using namespace retap;
using namespace retap::visit;
using test::With;

namespace {

unsigned permissions(const std::filesystem::path& path) {
    struct stat state {};
    REQUIRE(stat(path.c_str(), &state) == 0);
    return state.st_mode & 0777U;
}

} // namespace

TEST_CASE("the store is where it was asked for, then RETAP_STORE, then the data folder, then home") {
    // XDG Base Directory Specification: $XDG_DATA_HOME, else $HOME/.local/share; relative paths are to be ignored
    const With store("RETAP_STORE", "/s/named.db");
    const With data("XDG_DATA_HOME", "/d");
    const With home("HOME", "/h");
    CHECK(store_file("asked.db") == "asked.db");
    CHECK(store_file("") == "/s/named.db");
    const With none("RETAP_STORE", nullptr);
    CHECK(store_file("") == "/d/retap/visits.db");
    const With relative("XDG_DATA_HOME", "d");
    CHECK(store_file("") == "/h/.local/share/retap/visits.db");
    const With homeless("HOME", nullptr);
    CHECK_THROWS_AS((void)store_file(""), UsageError);
}

TEST_CASE("a new store and its folders are for the owner alone, whatever the umask") {
    const test::TempFolder folder;
    const mode_t old = umask(0);
    make_private(folder / "a/b/visits.db");
    umask(old);
    CHECK(permissions(folder / "a/b/visits.db") == 0600U);
    CHECK(permissions(folder / "a/b") == 0700U);
    CHECK(permissions(folder / "a") == 0700U);
}

TEST_CASE("a store that others could read is closed to them, and its content stays") {
    const test::TempFolder folder;
    test::put_bytes(folder / "visits.db", "content");
    chmod((folder / "visits.db").c_str(), 0644);
    make_private(folder / "visits.db");
    CHECK(permissions(folder / "visits.db") == 0600U);
    CHECK(test::bytes_of(folder / "visits.db") == "content");
}

TEST_CASE("a place that cannot hold a store is store trouble") {
    const test::TempFolder folder;
    CHECK_THROWS_AS(make_private(folder.path()), StoreError);
    test::put_bytes(folder / "file", "x");
    CHECK_THROWS_AS(make_private(folder / "file/visits.db"), StoreError);
}
