#include "strike_kits.hpp"
#include "skipped.hpp"

#include "error.hpp"

#include <doctest/doctest.h>

#include <filesystem>

using namespace retap;

TEST_CASE("a kit that is not installed is named, with how to install it") {
    try {
        (void)tools::load_kits(std::filesystem::temp_directory_path() / "no-such-share");
        FAIL("nothing was thrown");
    } catch (const InputError& e) {
        CHECK(std::string(e.what()).find("apt-get install hydrogen-drumkits") != std::string::npos);
    }
}

TEST_CASE("each kit has four or five recordings that differ") {
    if (!std::filesystem::exists("/usr/share/hydrogen/data/drumkits/ForzeeStereo")) {
        retap::test::skipped("install hydrogen-drumkits and hydrogen-data");
        return;
    }
    const auto kits = tools::load_kits();
    CHECK(kits.size() == 9);
    for (const tools::StrikeKit& kit : kits) {
        CAPTURE(kit.name);
        CHECK(kit.layers.size() >= 4);
        CHECK(kit.layers.size() <= 5);
        for (std::size_t i = 1; i < kit.layers.size(); ++i) {
            CHECK(kit.layers[i].samples != kit.layers[i - 1].samples);
        }
    }
}
