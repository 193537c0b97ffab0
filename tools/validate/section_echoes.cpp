// Whether a second knock that comes or goes is heard, whatever the strike.
#include "validate/section.hpp"
#include "validate/text_table.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace retap::validate {

namespace {

using compare::Verdict;

Share verdicts(std::span<const EchoResult> echoes, std::size_t pair, Verdict verdict, const auto& wanted) {
    double hits = 0.0;
    double of = 0.0;
    for (const EchoResult& echo : echoes) {
        if (echo.pair == pair && wanted(echo)) {
            of += 1.0;
            hits += echo.verdict == verdict ? 1.0 : 0.0;
        }
    }
    return share(hits, of);
}

std::vector<std::string> row(std::span<const EchoResult> echoes, const std::string& what, const auto& wanted) {
    std::vector<std::string> cells{what};
    for (std::size_t pair = 0; pair < echo_pairs.size(); ++pair) {
        const bool same = echo_pairs.at(pair).before_has_echo == echo_pairs.at(pair).after_has_echo;
        const Share right = verdicts(echoes, pair, same ? Verdict::alike : Verdict::different, wanted);
        const Share wrong = verdicts(echoes, pair, same ? Verdict::different : Verdict::alike, wanted);
        cells.push_back(fixed(right.hits, 0) + " / " + fixed(wrong.hits, 0) + " / " + fixed(right.of, 0));
    }
    return cells;
}

std::vector<std::string> kits_of(std::span<const EchoResult> echoes) {
    std::vector<std::string> kits;
    for (const EchoResult& echo : echoes) {
        if (std::ranges::find(kits, echo.kit) == kits.end()) {
            kits.push_back(echo.kit);
        }
    }
    return kits;
}

std::string words(const EchoKind& kind) {
    return std::string(kind.by_turns ? ", by turns" : "") + (kind.reseated ? ", put back" : "");
}

NamedFile all_echoes(std::span<const EchoResult> echoes) {
    TextTable table{.head = {"kit", "by_turns", "reseated", "seed", "pair", "gap_ms", "verdict", "likeness",
                             "contacts_before", "contacts_after"}};
    for (const EchoResult& echo : echoes) {
        table.rows.push_back({echo.kit, echo.kind.by_turns ? "1" : "0", echo.kind.reseated ? "1" : "0",
                              std::to_string(echo.seed), std::string(echo_pairs.at(echo.pair).name),
                              fixed(echo.gap_ms, 4), std::string(compare::word(echo.verdict)), fixed(echo.likeness, 2),
                              fixed(echo.contacts.front(), 1), fixed(echo.contacts.back(), 1)});
    }
    return {.name = "echoes.csv", .content = csv(table)};
}

} // namespace

Section echoes_section(std::span<const EchoResult> echoes) {
    Section section{.title = "Second knocks"};
    section.text =
        R"(Recorded strikes alone, or followed by themselves at half strength 0.3 to 5 ms later. Put back: the pick-up is re-seated between
the takes, and every impact varies in tone. Pairs with the right verdict / with the opposite one / of all: right is `alike` where both takes are alone or both have
the echo, and `different` where one has it. By turns: each tap plays the next of the kit's layers, so that no tap sounds like
the one before.

)";
    TextTable table{.head = {"kit"}};
    for (const EchoPair& pair : echo_pairs) {
        table.head.emplace_back(pair.name);
    }
    for (const EchoKind& kind : echo_kinds) {
        for (const std::string& kit : kits_of(echoes)) {
            table.rows.push_back(
                row(echoes, kit + words(kind), [&](const EchoResult& e) { return e.kit == kit && e.kind == kind; }));
        }
        table.rows.push_back(
            row(echoes, "**all" + words(kind) + "**", [&](const EchoResult& e) { return e.kind == kind; }));
    }
    section.text += markdown(table);
    section.numbers.push_back(all_echoes(echoes));
    return section;
}

} // namespace retap::validate
