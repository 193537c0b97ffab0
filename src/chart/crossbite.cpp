#include "chart/crossbite.hpp"

#include "chart/notation.hpp"

#include <algorithm>

namespace retap::chart {

namespace {

std::string lower_case(std::string_view text) {
    std::string lower;
    for (const char c : text) {
        lower += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return lower;
}

std::string trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    const std::size_t last = text.find_last_not_of(" \t\r\n");
    return first == std::string_view::npos ? std::string() : std::string(text.substr(first, last - first + 1));
}

} // namespace

bool Crossbite::turns(Tooth tooth) const {
    return teeth && std::any_of(teeth->begin(), teeth->end(),
                                [&](Tooth other) { return other == tooth || other == namesake(tooth); });
}

std::vector<Tooth> back_teeth(Side side) {
    std::vector<Tooth> teeth = all_teeth();
    std::erase_if(teeth, [side](Tooth tooth) { return tooth.front() || tooth.side() != side; });
    return teeth;
}

Crossbite read_crossbite(std::string_view text, Numbering numbering) {
    const std::string said = lower_case(trimmed(text));
    if (said.empty()) {
        throw NotationError(text, text.size(), "it is empty; write none, right, left, both, or teeth, such as 16 17");
    }
    if (said == "none") {
        return {std::vector<Tooth>{}};
    }
    if (said == "right" || said == "left") {
        return {back_teeth(said == "right" ? Side::right : Side::left)};
    }
    if (said == "both") {
        std::vector<Tooth> teeth = all_teeth();
        std::erase_if(teeth, [](Tooth tooth) { return tooth.front(); });
        return {teeth};
    }
    if (said.front() >= 'a' && said.front() <= 'z' && said.find(':') == std::string::npos) {
        throw NotationError(text, text.find_first_not_of(" \t\r\n"),
                            "a crossbite is none, right, left or both, or the teeth that are in it, such as 16 17");
    }
    std::vector<Tooth> teeth = read_teeth(text, numbering);
    const auto front = std::find_if(teeth.begin(), teeth.end(), [](Tooth tooth) { return tooth.front(); });
    if (front != teeth.end()) {
        throw NotationError(text, 0,
                            name(*front, numbering) + " is a front tooth; a crossbite is said of premolars and molars");
    }
    return {teeth};
}

std::string write_crossbite(const Crossbite& crossbite, Numbering numbering) {
    if (!crossbite.teeth) {
        return "";
    }
    return crossbite.teeth->empty() ? "none" : write_teeth(*crossbite.teeth, numbering);
}

} // namespace retap::chart
