#include "chart/place.hpp"
#include "chart/iso_tooth.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace retap::chart;
using retap::test::iso;

namespace {} // namespace

TEST_CASE("every spot of every tooth has one code, and the code leads back to it") {
    for (const Tooth tooth : all_teeth()) {
        std::set<std::string> codes;
        for (const Spot spot : spots_of(tooth)) {
            const std::string text = code(tooth, spot);
            CAPTURE(text);
            CHECK(codes.insert(text).second);
            CHECK(spot_from(tooth, text) == spot);
        }
        CHECK(codes.contains("MMR"));
        CHECK(codes.contains("DMR"));
    }
}

TEST_CASE("inner cusps are palatal above and lingual below, and L is understood above") {
    CHECK(code(iso(16), Spot::mesiolingual_cusp) == "MP");
    CHECK(code(iso(46), Spot::mesiolingual_cusp) == "ML");
    CHECK(spot_from(iso(16), "ML") == Spot::mesiolingual_cusp);
    CHECK_FALSE(spot_from(iso(46), "MP"));
    CHECK(plain_name(iso(24), Place{Spot::lingual_cusp, Facing::inner}) == "inner incline of the palatal cusp");
    CHECK(plain_name(iso(34), Place{Spot::lingual_cusp, {}}) == "lingual cusp");
}

TEST_CASE("teeth have the cusps of the usual anatomy and its usual variations") {
    CHECK(spot_from(iso(46), "D"));       // the fifth cusp of a lower first molar
    CHECK_FALSE(spot_from(iso(16), "D")); // not above
    CHECK(spot_from(iso(45), "ML"));      // three-cusped lower second premolar
    CHECK_FALSE(spot_from(iso(44), "ML"));
    CHECK(spot_from(iso(13), "C"));
    CHECK(spot_from(iso(11), "E"));
    CHECK_FALSE(spot_from(iso(11), "CF"));
    CHECK_FALSE(spot_from(iso(14), "MB"));
}

TEST_CASE("supporting are the upper palatal and the lower buccal cusps, guiding the other two rows") {
    // Spear Education 2015 and a school glossary of BULL; both state this division
    for (const int number : {14, 15, 16, 17, 24, 25, 26, 27}) {
        for (const Spot spot : spots_of(iso(number))) {
            const std::string text = code(iso(number), spot);
            if (text == "P" || text == "MP" || text == "DP") {
                CHECK(role(iso(number), spot) == CuspRole::supporting);
            } else if (text == "B" || text == "MB" || text == "DB") {
                CHECK(role(iso(number), spot) == CuspRole::guiding);
            } else {
                CHECK_FALSE(role(iso(number), spot));
            }
        }
    }
    CHECK(role(iso(46), Spot::distal_cusp) == CuspRole::supporting);
    CHECK(role(iso(46), Spot::mesiobuccal_cusp) == CuspRole::supporting);
    CHECK(role(iso(46), Spot::distolingual_cusp) == CuspRole::guiding);
    CHECK_FALSE(role(iso(13), Spot::canine_cusp));
}
