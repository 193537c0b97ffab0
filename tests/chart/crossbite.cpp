#include "chart/crossbite.hpp"
#include "chart/notation.hpp"
#include "chart/place.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;

namespace {

Tooth tooth(int iso) {
    return *Tooth::from_number(iso, Numbering::iso);
}

Crossbite crossbite_of(const char* text) {
    return read_crossbite(text, Numbering::iso);
}

std::string fault(const char* text) {
    try {
        (void)crossbite_of(text);
    } catch (const NotationError& error) {
        return error.fault();
    }
    return "";
}

} // namespace

TEST_CASE("a crossbite is none, a side, both, or teeth, and is written as teeth") {
    CHECK(crossbite_of("none").teeth->empty());
    CHECK(write_crossbite(crossbite_of("right"), Numbering::iso) == "18 17 16 15 14 48 47 46 45 44");
    CHECK(crossbite_of("Left").teeth->size() == 10);
    CHECK(crossbite_of("both").teeth->size() == 20);
    CHECK(write_crossbite(crossbite_of("16 17"), Numbering::universal) == "2 3");
    CHECK(write_crossbite(crossbite_of("universal: 3"), Numbering::iso) == "16");
    CHECK(write_crossbite({}, Numbering::iso).empty());
    CHECK(crossbite_of(write_crossbite(crossbite_of("none"), Numbering::iso).c_str()) == crossbite_of("none"));
}

TEST_CASE("a tooth in crossbite turns the one of the same name opposite as well, and no other") {
    const Crossbite crossbite = crossbite_of("16");
    CHECK(crossbite.turns(tooth(16)));
    CHECK(crossbite.turns(tooth(46)));
    CHECK_FALSE(crossbite.turns(tooth(15)));
    CHECK_FALSE(crossbite.turns(tooth(26)));
    CHECK_FALSE(Crossbite{}.turns(tooth(16)));
}

TEST_CASE("cusp roles turn round in crossbite, and nothing else has one") {
    // upright: drjrosen.com/cd127 and Spear Education 2015; turned round: from memory, unconfirmed
    const Crossbite crossbite = crossbite_of("right");
    CHECK(role(tooth(16), Spot::mesiobuccal_cusp) == CuspRole::guiding);
    CHECK(role(tooth(16), Spot::mesiobuccal_cusp, crossbite) == CuspRole::supporting);
    CHECK(role(tooth(46), Spot::mesiobuccal_cusp, crossbite) == CuspRole::guiding);
    CHECK(role(tooth(46), Spot::mesiolingual_cusp, crossbite) == CuspRole::supporting);
    CHECK(role(tooth(26), Spot::mesiobuccal_cusp, crossbite) == CuspRole::guiding);
    CHECK_FALSE(role(tooth(16), Spot::central_fossa, crossbite));
    CHECK_FALSE(role(tooth(13), Spot::canine_cusp, crossbite));
}

TEST_CASE("what is no crossbite says what to write") {
    CHECK(fault("").find("it is empty") == 0);
    CHECK(fault("  ").find("it is empty") == 0);
    CHECK(fault("right side").find("none, right, left or both") != std::string::npos);
    CHECK(fault("11").find("11 is a front tooth") == 0);
    CHECK(fault("99").find("99 is not a tooth") == 0);
}
