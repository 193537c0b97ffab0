#include "chart/notation_scanner.hpp"

#include <algorithm>

namespace retap::chart {

namespace {

std::optional<Film> film_from(const std::string& letters) {
    for (const Film film : {Film::hold, Film::slide, Film::open, Film::untestable}) {
        if (letters == word(film) || letters == word(film).substr(0, 1)) {
            return film;
        }
    }
    // what people type where a tooth is not there
    return letters == "missing" ? std::optional(Film::untestable) : std::nullopt;
}

Film take_film(NotationScanner& scanner) {
    const std::size_t start = scanner.at();
    const std::string letters = scanner.take_letters();
    const auto film = film_from(letters);
    if (!film) {
        scanner.fail(start, (letters.empty() ? std::string("expected a tooth number, or ")
                                             : "\"" + letters + "\" is not a film result; use ") +
                                "hold, slide, open or untestable");
    }
    return *film;
}

/// The pairs written here: one pair, one tooth, or a row of teeth.
std::vector<TeethPair> take_pairs(NotationScanner& scanner) {
    const Tooth first = scanner.take_tooth();
    if (scanner.take("/")) {
        const std::size_t start = scanner.at();
        const Tooth other = scanner.take_tooth();
        if (!could_meet(first, other)) {
            scanner.fail(start, name(first, scanner.numbering()) + " and " + name(other, scanner.numbering()) +
                                    " cannot meet; a pair is an upper and a lower tooth of the same place or near it");
        }
        return {first.arch() == Arch::upper ? TeethPair{first, other} : TeethPair{other, first}};
    }
    std::vector<TeethPair> pairs;
    for (const Tooth tooth : scanner.take_rest_of_range(first)) {
        pairs.push_back(pair_of(tooth));
    }
    return pairs;
}

} // namespace

HoldChart read_holds(std::string_view text, Numbering numbering) {
    NotationScanner scanner(text, numbering);
    if (scanner.at_end()) {
        scanner.fail(text.size(), "it is empty; write, for example, hold 16 26; slide 36");
    }
    HoldChart chart;
    while (!scanner.at_end()) {
        const std::size_t group_start = scanner.at();
        if (scanner.at_digit()) {
            scanner.fail(group_start, "say first what the film did: hold, slide, open or untestable");
        }
        const Film film = take_film(scanner);
        if (scanner.at_end() || !scanner.at_digit()) {
            scanner.fail(scanner.at(), "no tooth follows \"" + std::string(word(film)) + "\"");
        }
        while (!scanner.at_end() && scanner.at_digit()) {
            const std::size_t start = scanner.at();
            for (const TeethPair& pair : take_pairs(scanner)) {
                if (!chart.emplace(pair, film).second) {
                    scanner.fail(start, name(pair, scanner.numbering()) + " is charted twice");
                }
            }
        }
    }
    return chart;
}

std::vector<Tooth> read_teeth(std::string_view text, Numbering numbering) {
    NotationScanner scanner(text, numbering);
    std::vector<Tooth> teeth;
    while (!scanner.at_end()) {
        const std::size_t start = scanner.at();
        const Tooth first = scanner.take_tooth();
        for (const Tooth tooth : scanner.take_rest_of_range(first)) {
            if (std::find(teeth.begin(), teeth.end(), tooth) != teeth.end()) {
                scanner.fail(start, name(tooth, scanner.numbering()) + " is listed twice");
            }
            teeth.push_back(tooth);
        }
    }
    if (teeth.empty()) {
        scanner.fail(text.size(), "a tooth number is missing here");
    }
    std::sort(teeth.begin(), teeth.end());
    return teeth;
}

std::string write_holds(const HoldChart& chart, Numbering numbering) {
    std::string text;
    for (const Film film : {Film::hold, Film::slide, Film::open, Film::untestable}) {
        std::string group;
        for (const auto& [pair, result] : chart) {
            if (result == film) {
                // the pair with the namesake is what a tooth alone stands for
                group += " " + (pair == pair_of(pair.upper) ? name(pair.upper, numbering) : name(pair, numbering));
            }
        }
        if (!group.empty()) {
            text += (text.empty() ? "" : "; ") + std::string(word(film)) + group;
        }
    }
    return text;
}

std::string write_teeth(const std::vector<Tooth>& teeth, Numbering numbering) {
    std::string text;
    for (const Tooth tooth : teeth) {
        text += (text.empty() ? "" : " ") + name(tooth, numbering);
    }
    return text;
}

} // namespace retap::chart
