#include "validate/pair_numbers.hpp"

#include "validate/text_table.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace retap::validate {

namespace {

struct TruthColumn {
    const char* name;
    double TakeTruth::*number;
};
constexpr std::array<TruthColumn, 6> truth_columns{{{"contacts_first_ms", &TakeTruth::contacts},
                                                    {"lone_share", &TakeTruth::lone},
                                                    {"next_ms", &TakeTruth::next_ms},
                                                    {"spread_ms", &TakeTruth::spread_ms},
                                                    {"mean_ms", &TakeTruth::mean_ms},
                                                    {"peak_db", &TakeTruth::peak_db}}};

std::vector<std::string> measures_of(std::span<const PairResult> pairs) {
    std::vector<std::string> names;
    for (const PairResult& pair : pairs) {
        for (const compare::MeasureComparison& measure : pair.measures) {
            if (std::ranges::find(names, measure.name) == names.end()) {
                names.push_back(measure.name);
            }
        }
    }
    return names;
}

std::vector<std::string> head(const std::vector<std::string>& measures) {
    std::vector<std::string> head{"family",    "mechanics", "sound",    "patient", "condition",
                                  "height_um", "verdict",   "likeness", "low",     "high"};
    for (const std::string& measure : measures) {
        for (const char* of : {"_before", "_after", "_difference", "_low", "_high"}) {
            head.push_back(measure + of);
        }
    }
    for (std::size_t measure = 1; measure < measure_count; ++measure) {
        head.emplace_back(measure_name(measure));
    }
    for (const char* more : {"fit_before", "fit_after", "snr_db_before", "snr_db_after", "onset_bias_ms_before",
                             "onset_bias_ms_after", "true_level_drop_db"}) {
        head.emplace_back(more);
    }
    for (const TruthColumn& column : truth_columns) {
        for (const char* when : {"_before", "_after"}) {
            head.push_back(std::string("true_") + column.name + when);
        }
    }
    return head;
}

void append_measures(std::vector<std::string>& row, const PairResult& pair, const std::vector<std::string>& measures) {
    for (const std::string& name : measures) {
        const auto* found = compare::measure_named(pair.measures, name);
        if (found == nullptr) {
            row.insert(row.end(), 5, "");
            continue;
        }
        for (const double value :
             {found->before.middle, found->after.middle, found->difference, found->low, found->high}) {
            row.push_back(fixed(value, 6));
        }
    }
}

std::vector<std::string> row_of(const PairResult& pair, const std::vector<std::string>& measures) {
    const Condition& condition = conditions.at(pair.condition);
    std::vector<std::string> row{name(pair.family),
                                 std::string(bite::name(pair.family.mechanics)),
                                 std::string(name(pair.family.sound)),
                                 std::to_string(pair.patient),
                                 std::string(condition.name),
                                 fixed(condition.height_um, 0),
                                 std::string(compare::word(pair.verdict)),
                                 fixed(pair.likeness, 3),
                                 fixed(pair.likeness_low, 3),
                                 fixed(pair.likeness_high, 3)};
    append_measures(row, pair, measures);
    for (std::size_t measure = 1; measure < measure_count; ++measure) {
        row.push_back(fixed(pair.distance.at(measure), 6));
    }
    for (const bool fit : pair.fit) {
        row.emplace_back(fit ? "1" : "0");
    }
    for (const double snr_db : pair.snr_db) {
        row.push_back(fixed(snr_db, 2));
    }
    for (const auto& bias_ms : pair.onset_bias_ms) {
        row.push_back(bias_ms ? fixed(*bias_ms, 4) : "");
    }
    row.push_back(fixed(pair.truth.front().peak_db - pair.truth.back().peak_db, 3));
    for (const TruthColumn& column : truth_columns) {
        for (const TakeTruth& truth : pair.truth) {
            row.push_back(fixed(truth.*column.number, 4));
        }
    }
    return row;
}

} // namespace

std::string pairs_csv(std::span<const PairResult> pairs) {
    const std::vector<std::string> measures = measures_of(pairs);
    TextTable table{.head = head(measures)};
    for (const PairResult& pair : pairs) {
        table.rows.push_back(row_of(pair, measures));
    }
    return csv(table);
}

} // namespace retap::validate
