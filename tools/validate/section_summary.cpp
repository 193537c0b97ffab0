// One line a family: what the sections below go into.
#include "validate/ladder.hpp"
#include "validate/section.hpp"
#include "validate/text_table.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

namespace retap::validate {

namespace {

using compare::Verdict;
constexpr std::array<std::string_view, 5> heights{"15", "25", "50", "100", "200"};

// Without a zero ahead of the point.
std::string area_text(double value) {
    const std::string text = fixed(value, 2);
    return text.starts_with("0") ? text.substr(1) : text;
}

std::string percent_text(std::span<const PairResult> pairs, const Family& family, std::string_view condition,
                         Verdict verdict) {
    return fixed(100.0 * verdict_share(pairs, family, condition, verdict).value, 0);
}

TextTable summary(std::span<const PairResult> pairs) {
    TextTable table{.head = {"family", "AUC 15", "25", "50", "100", "200 µm", "unchanged: alike", "different",
                             "alike at 50", "100", "200 µm", "different at 100", "200 µm"}};
    for (const Family& family : families_of(pairs)) {
        std::vector<std::string> row{name(family)};
        for (const std::string_view height : heights) {
            row.push_back(area_text(area(pairs, family, height, 0).value));
        }
        row.push_back(percent_text(pairs, family, "unchanged", Verdict::alike));
        row.push_back(percent_text(pairs, family, "unchanged", Verdict::different));
        for (const char* height : {"50", "100", "200"}) {
            row.push_back(percent_text(pairs, family, height, Verdict::alike));
        }
        for (const char* height : {"100", "200"}) {
            row.push_back(percent_text(pairs, family, height, Verdict::different));
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

TextTable climb(std::span<const PairResult> pairs) {
    TextTable table{.head = {"likeness", "200", "100", "50", "25", "15 µm", "unchanged", "climbs at each step"}};
    for (const Family& family : families_of(pairs)) {
        std::vector<std::string> row{name(family)};
        for (const char* condition : {"200", "100", "50", "25", "15", "unchanged"}) {
            const auto sorted = likenesses(pairs, family, condition);
            row.push_back(fixed(quantile(sorted, 0.5), 0) + " (" + fixed(quantile(sorted, 0.1), 0) + "-" +
                          fixed(quantile(sorted, 0.9), 0) + ")");
        }
        row.push_back(percent(climbs(pairs, family)));
        table.rows.push_back(std::move(row));
    }
    table.rows.push_back({"what we aim for", "10", "25", "50", "75", "", "90", "95 %"});
    return table;
}

TextTable ways_to_land(std::span<const PairResult> pairs) {
    TextTable table{.head = {"truth", "one contact at 100", "200 µm", "next pair after 10 ms at 100", "200 µm",
                             "softer at 100", "200 µm", "onset moves", "90 %"}};
    for (const Family& family : families_of(pairs)) {
        std::vector<std::string> alone;
        std::vector<std::string> late;
        std::vector<std::string> softer;
        for (const char* condition : {"100", "200"}) {
            double of = 0.0;
            double lone = 0.0;
            double stopped = 0.0;
            std::vector<double> drops;
            for (const PairResult& pair : pairs) {
                if (pair.family == family && conditions.at(pair.condition).name == condition) {
                    of += 1.0;
                    lone += pair.truth.back().lone;
                    stopped += pair.truth.back().next_ms > 10.0 ? 1.0 : 0.0;
                    drops.push_back(pair.truth.front().peak_db - pair.truth.back().peak_db);
                }
            }
            std::ranges::sort(drops);
            alone.push_back(fixed(100.0 * lone / of, 0) + " %");
            late.push_back(fixed(100.0 * stopped / of, 0) + " %");
            softer.push_back(fixed(quantile(drops, 0.5), 1) + " dB");
        }
        std::vector<std::string> row{name(family)};
        for (const auto* part : {&alone, &late, &softer}) {
            row.insert(row.end(), part->begin(), part->end());
        }
        const auto shifts = onset_shifts_ms(pairs, family);
        row.push_back(fixed(quantile(shifts, 0.5), 3) + " ms");
        row.push_back(fixed(quantile(shifts, 0.9), 3) + " ms");
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace

Section summary_section(std::span<const PairResult> pairs) {
    Section section{.title = "In short"};
    section.text = "Area under ROC of the likeness, changed against unchanged, and verdicts in percent.\n\n" +
                   markdown(summary(pairs)) + R"(
The likeness by height, middle and 10 to 90 % of the pairs; and in how many patients it rises at each step while one tooth is
brought down from 100 to 50, 25 and 0 µm.

)" + markdown(climb(pairs)) +
                   R"(
What is true of these pairs: in how many taps one contact stands alone for a millisecond, in how many pairs the next teeth come
more than 10 ms later (the jaw was stopped), by how much the tap gets softer (middle, seat and effort included), and by how much
the middle onset of an unchanged bite moves from one take to the other beyond the true one (middle, and 90 % of the pairs).

)" + markdown(ways_to_land(pairs));
    return section;
}

} // namespace retap::validate
