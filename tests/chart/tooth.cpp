#include "chart/tooth.hpp"
#include "chart/iso_tooth.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

using namespace retap::chart;
using retap::test::iso;

namespace {

// ISO 3950:2016 beside the Universal system, as printed side by side in general references (for one, the article on the
// FDI notation in Wikipedia and the Universal Numbering System one): each upper and lower row from the patient's right.
constexpr std::array<std::pair<int, int>, 32> published = {{
    {18, 1},  {17, 2},  {16, 3},  {15, 4},  {14, 5},  {13, 6},  {12, 7},  {11, 8},  {21, 9},  {22, 10}, {23, 11},
    {24, 12}, {25, 13}, {26, 14}, {27, 15}, {28, 16}, {48, 32}, {47, 31}, {46, 30}, {45, 29}, {44, 28}, {43, 27},
    {42, 26}, {41, 25}, {31, 24}, {32, 23}, {33, 22}, {34, 21}, {35, 20}, {36, 19}, {37, 18}, {38, 17},
}};

} // namespace

TEST_CASE("ISO and Universal numbers name the same teeth as the published table, both ways") {
    for (const auto& row : published) {
        const int iso_number = row.first;
        const int universal_number = row.second;
        CAPTURE(iso_number);
        const Tooth by_iso = iso(iso_number);
        const Tooth by_universal = Tooth::from_number(universal_number, Numbering::universal).value();
        CHECK(by_iso == by_universal);
        CHECK(by_iso.number(Numbering::universal) == universal_number);
        CHECK(by_universal.number(Numbering::iso) == iso_number);
    }
}

TEST_CASE("the Universal number follows from quadrant and place: 9-p, 8+p, 25-p, 24+p") {
    for (int place = 1; place <= 8; ++place) {
        CHECK(iso(10 + place).number(Numbering::universal) == 9 - place);
        CHECK(iso(20 + place).number(Numbering::universal) == 8 + place);
        CHECK(iso(30 + place).number(Numbering::universal) == 25 - place);
        CHECK(iso(40 + place).number(Numbering::universal) == 24 + place);
    }
}

TEST_CASE("numbers that are no permanent tooth give nothing") {
    for (const int number : {-1, 0, 9, 10, 19, 20, 29, 30, 39, 40, 49, 51, 85, 99, 111}) {
        CAPTURE(number);
        CHECK_FALSE(Tooth::from_number(number, Numbering::iso));
    }
    for (const int number : {-1, 0, 33, 48}) {
        CHECK_FALSE(Tooth::from_number(number, Numbering::universal));
    }
}

TEST_CASE("exactly the numbers 11-18, 21-28, 31 and 32 are valid in both systems, and none means the same tooth") {
    std::set<int> both;
    for (int number = 1; number <= 48; ++number) {
        const auto as_iso = Tooth::from_number(number, Numbering::iso);
        const auto as_universal = Tooth::from_number(number, Numbering::universal);
        if (as_iso && as_universal) {
            both.insert(number);
            CHECK(*as_iso != *as_universal);
        }
    }
    CHECK(both == std::set<int>{11, 12, 13, 14, 15, 16, 17, 18, 21, 22, 23, 24, 25, 26, 27, 28, 31, 32});
}

TEST_CASE("teeth are in chart order, the upper row from the patient's right, then the lower one") {
    REQUIRE(all_teeth().size() == 32);
    for (std::size_t i = 0; i < 32; ++i) {
        CHECK(all_teeth()[i].number(Numbering::iso) == published.at(i).first);
    }
    CHECK(std::is_sorted(all_teeth().begin(), all_teeth().end()));
}

TEST_CASE("each tooth meets the opponents of the regular arch") {
    // upper tooth, then the lower ones it meets, on the right; scheme of tooth against two teeth (Wheeler; Okeson; from
    // memory), with one anchor found in print: the lower first molar meets the upper second premolar and first molar.
    const std::array<std::pair<int, std::vector<int>>, 8> right = {{{11, {41, 42}},
                                                                    {12, {42, 43}},
                                                                    {13, {43, 44}},
                                                                    {14, {44, 45}},
                                                                    {15, {45, 46}},
                                                                    {16, {46, 47}},
                                                                    {17, {47, 48}},
                                                                    {18, {48}}}};
    for (const auto& [upper, lowers] : right) {
        std::vector<Tooth> expected;
        std::vector<Tooth> expected_left;
        for (const int lower : lowers) {
            expected.push_back(iso(lower));
            expected_left.push_back(iso(lower - 10)); // quadrant 4 becomes 3
        }
        CHECK(opponents(iso(upper)) == expected);
        CHECK(opponents(iso(upper + 10)) == expected_left); // quadrant 1 becomes 2
    }
    CHECK(opponents(iso(46)) == std::vector{iso(15), iso(16)});
}

TEST_CASE("opposing is mutual, makes 30 pairs, and leaves exactly four teeth with one opponent") {
    int pairs = 0;
    std::set<int> with_one;
    for (const Tooth tooth : all_teeth()) {
        const auto met = opponents(tooth);
        pairs += static_cast<int>(met.size());
        if (met.size() == 1) {
            with_one.insert(tooth.number(Numbering::iso));
        }
        for (const Tooth other : met) {
            const auto back = opponents(other);
            CHECK(std::find(back.begin(), back.end(), tooth) != back.end());
            CHECK(other.side() == tooth.side());
            CHECK(other.arch() != tooth.arch());
        }
        CHECK(std::find(met.begin(), met.end(), namesake(tooth)) != met.end());
    }
    CHECK(pairs == 60); // each pair seen from both ends
    CHECK(with_one == std::set<int>{18, 28, 31, 41});
}

TEST_CASE("teeth have names a person can read, and lists end in and") {
    CHECK(plain_name(iso(16)) == "upper right first molar");
    CHECK(plain_name(iso(31)) == "lower left central incisor");
    CHECK(list({iso(16), iso(24), iso(47)}, Numbering::iso) == "16, 24 and 47");
    CHECK(list({iso(16), iso(24)}, Numbering::universal) == "3 and 12");
    CHECK(list(std::vector<Tooth>{}, Numbering::iso) == "no tooth");
    CHECK(iso(13).kind() == ToothKind::canine);
    CHECK(iso(35).kind() == ToothKind::premolar);
    CHECK(iso(13).front());
    CHECK_FALSE(iso(14).front());
}
