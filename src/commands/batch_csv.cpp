#include "batch_csv.hpp"

#include "report/json.hpp"
#include "utf8.hpp"

#include <algorithm>
#include <string_view>

namespace retap::commands {
namespace {

/// A cell of text; a table with one byte that is not UTF-8 could not be read at all by many programs. What begins as a
/// formula, as a file may be called, is one to a spreadsheet: it gets an apostrophe in front (common practice).
std::string quoted(const std::string& given) {
    const bool formula = !given.empty() && std::string_view("=+-@\t\r").find(given[0]) != std::string_view::npos;
    const std::string text = (formula ? "'" : "") + as_utf8(given);
    if (text.find_first_of(",\"\r\n") == std::string::npos) {
        return text;
    }
    std::string out = "\"";
    for (const char c : text) {
        out += c == '"' ? "\"\"" : std::string(1, c);
    }
    return out + "\"";
}

/// The digits that JSON gives; nothing for what is not a number.
std::string plain(const report::Json& number) {
    return number.is_null() ? "" : number.dump();
}

std::string joined(const std::vector<std::string>& parts) {
    std::string out;
    for (const std::string& part : parts) {
        out += (out.empty() ? "" : " ") + part;
    }
    return out;
}

using Signature = std::vector<compare::SignatureEntry>;

std::string column_of(const compare::SignatureEntry& entry) {
    return entry.unit.empty() ? entry.name : entry.name + "_" + entry.unit;
}

/// The measures' columns, in the order of the signatures.
std::vector<std::string> columns_of(const std::vector<Signature>& signatures) {
    std::vector<std::string> columns;
    for (const Signature& signature : signatures) {
        for (const compare::SignatureEntry& entry : signature) {
            if (std::ranges::find(columns, column_of(entry)) == columns.end()) {
                columns.push_back(column_of(entry));
            }
        }
    }
    return columns;
}

std::string take_cells(const dsp::TakeAnalysis& take) {
    const auto usable = std::ranges::count_if(take.taps, [](const dsp::Tap& tap) { return tap.usable; });
    const dsp::Fitness& fitness = take.fitness;
    const std::vector<std::string> cells{plain(report::significant(take.sample_rate_hz)),
                                         std::to_string(take.channels),
                                         plain(report::rounded(take.duration_s, 6)),
                                         fitness.usable ? "yes" : "no",
                                         quoted(joined(fitness.reasons)),
                                         std::to_string(take.taps.size()),
                                         std::to_string(usable),
                                         std::to_string(take.turned_down.size()),
                                         plain(report::rounded(fitness.noise_dbfs, 2)),
                                         plain(report::rounded(fitness.snr_db, 2)),
                                         plain(report::rounded(fitness.bandwidth_hz, 1)),
                                         std::to_string(fitness.clipped_samples),
                                         std::to_string(fitness.dropouts)};
    std::string out;
    for (const std::string& cell : cells) {
        out += "," + cell;
    }
    return out;
}

constexpr const char* csv_head = "file,error,sample_rate_hz,channels,duration_s,usable,reasons,taps,usable_taps,"
                                 "turned_down,noise_dbfs,snr_db,bandwidth_hz,clipped_samples,dropouts";
constexpr std::size_t cells_of_a_take = 13;

} // namespace

std::string batch_csv(const std::vector<BatchResult>& results) {
    std::vector<Signature> signatures;
    signatures.reserve(results.size());
    for (const BatchResult& result : results) {
        signatures.push_back(result.take ? compare::signature_of(*result.take) : Signature{});
    }
    const auto columns = columns_of(signatures);
    std::string out = csv_head;
    for (const std::string& column : columns) {
        out += "," + quoted(column) + "," + quoted(column + "_scatter");
    }
    out += "\n";
    for (std::size_t i = 0; i < results.size(); ++i) {
        const BatchResult& result = results[i];
        out += quoted(result.file.filename().string()) + "," + quoted(result.error);
        out += result.take ? take_cells(*result.take) : std::string(cells_of_a_take, ',');
        for (const std::string& column : columns) {
            const auto entry = std::ranges::find(signatures[i], column, column_of);
            const bool there = entry != signatures[i].end();
            out += "," + (there ? plain(report::significant(entry->summary.middle)) : "") + "," +
                   (there ? plain(report::significant(entry->summary.scatter)) : "");
        }
        out += "\n";
    }
    return out;
}

} // namespace retap::commands
