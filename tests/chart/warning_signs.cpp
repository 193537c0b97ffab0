#include "chart/warning_signs.hpp"
#include "chart/next_rules.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace retap::chart;

TEST_CASE("a sign is settled once it was raised with somebody and something was decided, not by one of the two") {
    CHECK_FALSE(Warning{"loose"}.settled());
    CHECK_FALSE(Warning{"loose", "Dr Example", ""}.settled());
    CHECK_FALSE(Warning{"loose", "", "leave"}.settled());
    CHECK(Warning{"loose", "Dr Example", "leave"}.settled());
    CHECK(settled({{"few-holds", "Dr Example", "go on"}}, "few-holds"));
    CHECK_FALSE(settled({{"loose", "Dr Example", "go on"}}, "few-holds"));
}

TEST_CASE("words of the list are told in plain words, own words as they are") {
    CHECK(plain_warning("loose") == "a tooth that is loose, or moves when the teeth close");
    CHECK(plain_warning("clicks on the left") == "clicks on the left");
}

TEST_CASE("the flags that rules raise are in the list, under the rule's id") {
    for (const char* id : {"few-holds", "one-sided-holds"}) {
        CHECK(std::ranges::count(warning_signs, id, &WarningSign::word) == 1);
        CHECK(std::ranges::any_of(next_rules(), [id](const Rule& rule) { return rule.id == id; }));
    }
}
