#include "validate/pair_numbers.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

namespace {

using namespace retap::validate;

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells(1);
    for (const char c : line) {
        if (c == ',') {
            cells.emplace_back();
        } else {
            cells.back() += c;
        }
    }
    return cells;
}

TEST_CASE("each pair is one row under its heads, with blanks where a comparison shows no such measure") {
    PairResult full{.family = {.mechanics = retap::bite::Mechanics::stopping, .sound = Sound::strikes},
                    .patient = 12,
                    .condition = 6,
                    .likeness = 12.5};
    full.measures.emplace_back();
    full.measures.back().name = "lead";
    full.measures.back().difference = -1.25;
    full.fit = {true, false};
    full.truth.front().peak_db = -12.0;
    full.truth.back().peak_db = -30.0;
    const PairResult bare{};
    std::istringstream lines(pairs_csv(std::vector{bare, full}));
    std::string head;
    std::string first;
    std::string second;
    REQUIRE(std::getline(lines, head));
    REQUIRE(std::getline(lines, first));
    REQUIRE(std::getline(lines, second));
    const auto heads = split(head);
    const auto cells = split(second);
    REQUIRE(cells.size() == heads.size());
    REQUIRE(split(first).size() == heads.size());
    const auto value = [&](const std::string& of, const std::vector<std::string>& row) {
        const auto at = std::ranges::find(heads, of);
        REQUIRE(at != heads.end());
        return row.at(static_cast<std::size_t>(at - heads.begin()));
    };
    CHECK(value("family", cells) == "stopping-strikes");
    CHECK(value("mechanics", cells) == "stopping");
    CHECK(value("sound", cells) == "strikes");
    CHECK(value("patient", cells) == "12");
    CHECK(value("height_um", cells) == "200");
    CHECK(value("likeness", cells) == "12.500");
    CHECK(value("lead_difference", cells) == "-1.250000");
    CHECK(value("lead_difference", split(first)).empty());
    CHECK(value("fit_before", cells) == "1");
    CHECK(value("fit_after", cells) == "0");
    CHECK(value("true_level_drop_db", cells) == "18.000");
}

} // namespace
