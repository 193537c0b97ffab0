#include "chairside/doors.hpp"

#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <string>
#include <sys/stat.h>

using namespace retap;
using namespace retap::chairside;
using namespace std::chrono_literals;

namespace {

mode_t rights(const std::filesystem::path& file) {
    struct stat about {};
    REQUIRE(stat(file.c_str(), &about) == 0);
    return about.st_mode & 0777U;
}

const Doors::Clock::time_point now{std::chrono::seconds(1936612800)};

} // namespace

TEST_CASE("A token opens once") {
    const test::TempFolder folder;
    Doors doors(folder / "doors");
    const std::string token = doors.make(30s, now);
    const std::string other = doors.make(30s, now);
    CHECK(token.size() == 32);
    CHECK(token != other);
    CHECK(doors.open(token, now));
    CHECK_FALSE(doors.open(token, now));
    CHECK(doors.open(other, now));
}

TEST_CASE("A token that is too old opens nothing and is gone") {
    const test::TempFolder folder;
    Doors doors(folder / "doors");
    const std::string token = doors.make(30s, now);
    const std::string just = doors.make(30s, now);
    CHECK_FALSE(doors.open(token, now + 31s));
    CHECK_FALSE(doors.open(token, now));
    CHECK(doors.open(just, now + 30s));
}

TEST_CASE("A token that a second start makes opens the first one's door") {
    const test::TempFolder folder;
    Doors first(folder / "doors");
    const std::string token = Doors(folder / "doors").make(30s, now);
    CHECK(first.open(token, now));
}

TEST_CASE("What is no token is never taken for a file's name") {
    const test::TempFolder folder;
    Doors doors(folder / "doors");
    std::ofstream(folder / "doors/ffffffffffffffffffffffffffffffff.html") << "99999999999";
    std::ofstream(folder / "outside") << "99999999999";
    for (const char* shown : {"", ".", "..", "../outside", "/etc/passwd", "ffffffffffffffffffffffffffffffff.html",
                              "FFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFF"}) {
        CHECK_FALSE(doors.open(shown, now));
    }
    std::filesystem::create_symlink("../outside", folder / "doors/00000000000000000000000000000000");
    CHECK_FALSE(doors.open(std::string(32, '0'), now));
    CHECK(std::filesystem::exists(folder / "outside"));
}

TEST_CASE("Tokens and pages are for the user alone, and the page's name tells nothing of the token in it") {
    const test::TempFolder folder;
    Doors doors(folder / "doors");
    const std::string token = doors.make(30s, now);
    const auto page = doors.page_to(opening_address(4711, token));
    CHECK(rights(folder / "doors") == 0700);
    CHECK(rights(folder / ("doors/" + token)) == 0600);
    CHECK(rights(page) == 0600);
    CHECK(page.string().find(token) == std::string::npos);
    CHECK(test::bytes_of(page).find("url=http://127.0.0.1:4711/open?token=" + token + "\"") != std::string::npos);
    doors.clear();
    CHECK_FALSE(doors.open(token, now));
    CHECK_FALSE(std::filesystem::exists(page));
}

TEST_CASE("A place that somebody else made is not taken for ours") {
    const test::TempFolder folder;
    std::filesystem::create_directory(folder / "theirs");
    std::filesystem::create_symlink("theirs", folder / "doors");
    CHECK_THROWS_AS(Doors(folder / "doors"), StoreError);
    CHECK_THROWS_AS(Doors("/nowhere/at/all"), StoreError);
}
