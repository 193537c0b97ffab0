#include "chart/tooth.hpp"

#include "chart/words.hpp"

#include <cassert>

namespace retap::chart {

namespace {

int index_of(Arch arch, Side side, int place) {
    const int column = side == Side::right ? 8 - place : 7 + place;
    return arch == Arch::upper ? column : 16 + column;
}

} // namespace

std::string_view word(Numbering numbering) {
    return numbering == Numbering::iso ? "iso" : "universal";
}

std::optional<Numbering> numbering_from(std::string_view word) {
    if (word == "iso") {
        return Numbering::iso;
    }
    if (word == "universal") {
        return Numbering::universal;
    }
    return std::nullopt;
}

std::string_view word(Side side) {
    return side == Side::right ? "right" : "left";
}

Side opposite(Side side) {
    return side == Side::right ? Side::left : Side::right;
}

Tooth::Tooth(Arch arch, Side side, int place) : index_(index_of(arch, side, place)) {
    assert(place >= 1 && place <= 8);
}

std::optional<Tooth> Tooth::from_number(int number, Numbering numbering) {
    if (numbering == Numbering::universal) {
        if (number < 1 || number > 32) {
            return std::nullopt;
        }
        // 1-16 run right to left in the upper arch, 17-32 back from left to right in the lower one
        return Tooth(number <= 16 ? number - 1 : 16 + (32 - number));
    }
    const int quadrant = number / 10;
    const int place = number % 10;
    if (quadrant < 1 || quadrant > 4 || place < 1 || place > 8) {
        return std::nullopt;
    }
    return Tooth(quadrant <= 2 ? Arch::upper : Arch::lower, quadrant == 1 || quadrant == 4 ? Side::right : Side::left,
                 place);
}

int Tooth::number(Numbering numbering) const {
    const bool upper = arch() == Arch::upper;
    if (numbering == Numbering::universal) {
        return upper ? index_ + 1 : 32 - column();
    }
    const bool right = side() == Side::right;
    const int quadrant = upper ? (right ? 1 : 2) : (right ? 4 : 3);
    return 10 * quadrant + place();
}

ToothKind Tooth::kind() const {
    if (place() <= 2) {
        return ToothKind::incisor;
    }
    if (place() == 3) {
        return ToothKind::canine;
    }
    return place() <= 5 ? ToothKind::premolar : ToothKind::molar;
}

const std::vector<Tooth>& all_teeth() {
    static const std::vector<Tooth> teeth = [] {
        std::vector<Tooth> all;
        for (const Arch arch : {Arch::upper, Arch::lower}) {
            for (int place = 8; place >= 1; --place) {
                all.emplace_back(arch, Side::right, place);
            }
            for (int place = 1; place <= 8; ++place) {
                all.emplace_back(arch, Side::left, place);
            }
        }
        return all;
    }();
    return teeth;
}

std::string name(Tooth tooth, Numbering numbering) {
    return std::to_string(tooth.number(numbering));
}

std::string plain_name(Tooth tooth) {
    static constexpr std::array<std::string_view, 8> places = {"central incisor", "lateral incisor", "canine",
                                                               "first premolar",  "second premolar", "first molar",
                                                               "second molar",    "third molar"};
    return std::string(tooth.arch() == Arch::upper ? "upper " : "lower ") + std::string(word(tooth.side())) + " " +
           std::string(places.at(static_cast<std::size_t>(tooth.place() - 1)));
}

std::string list(const std::vector<Tooth>& teeth, Numbering numbering) {
    std::vector<std::string> names;
    names.reserve(teeth.size());
    for (const Tooth tooth : teeth) {
        names.push_back(name(tooth, numbering));
    }
    return names.empty() ? "no tooth" : join_with_and(names);
}

std::vector<Tooth> opponents(Tooth tooth) {
    const Tooth same = namesake(tooth);
    std::vector<Tooth> met = {same};
    if (tooth.arch() == Arch::upper && tooth.place() < 8) {
        met.emplace_back(Arch::lower, tooth.side(), tooth.place() + 1);
    } else if (tooth.arch() == Arch::lower && tooth.place() > 1) {
        met.insert(met.begin(), Tooth(Arch::upper, tooth.side(), tooth.place() - 1));
    }
    return met;
}

Tooth namesake(Tooth tooth) {
    return {tooth.arch() == Arch::upper ? Arch::lower : Arch::upper, tooth.side(), tooth.place()};
}

} // namespace retap::chart
