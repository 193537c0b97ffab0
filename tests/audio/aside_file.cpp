#include "aside_file.hpp"

#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>
#include <sys/stat.h>

using namespace retap;
using namespace retap::test;

TEST_CASE("the destination holds the old bytes until commit and the new ones after it") {
    const TempFolder folder;
    put_bytes(folder / "out", "old");
    AsideFile file(folder / "out");
    file.write("new");
    CHECK(bytes_of(folder / "out") == "old");
    file.commit();
    CHECK(bytes_of(folder / "out") == "new");
    CHECK(folder.entries() == 1);
}

TEST_CASE("a new file gets the permissions that any other program would give, a replaced one keeps its own") {
    const TempFolder folder;
    const mode_t mask = umask(027);
    write_file_whole(folder / "new", "x");
    umask(mask);
    struct stat found {};
    REQUIRE(stat((folder / "new").c_str(), &found) == 0);
    CHECK((found.st_mode & 0777U) == 0640U);
    REQUIRE(chmod((folder / "new").c_str(), 0600) == 0);
    write_file_whole(folder / "new", "y");
    REQUIRE(stat((folder / "new").c_str(), &found) == 0);
    CHECK((found.st_mode & 0777U) == 0600U);
}

TEST_CASE("a link is written through: it stays a link and its target changes") {
    const TempFolder folder;
    put_bytes(folder / "target", "old");
    std::filesystem::create_symlink("target", folder / "link");
    write_file_whole(folder / "link", "new");
    CHECK(std::filesystem::is_symlink(folder / "link"));
    CHECK(bytes_of(folder / "target") == "new");
}

TEST_CASE("folders and devices are not written over") {
    const TempFolder folder;
    CHECK_THROWS_AS(AsideFile(folder.path()), InputError);
    CHECK_THROWS_AS(AsideFile("/dev/null"), InputError);
    CHECK_THROWS_AS(AsideFile(folder / "none/"), InputError);
}

TEST_CASE("a file that must not be replaced is not, and nothing is left beside it") {
    const TempFolder folder;
    put_bytes(folder / "there.txt", "old");
    {
        AsideFile file(folder / "there.txt");
        file.write("new");
        CHECK_THROWS_AS(file.commit(Existing::refuse), InputError);
    }
    CHECK(bytes_of(folder / "there.txt") == "old");
    AsideFile file(folder / "free.txt");
    file.write("new");
    file.commit(Existing::refuse);
    CHECK(bytes_of(folder / "free.txt") == "new");
    CHECK(folder.entries() == 2);
}
