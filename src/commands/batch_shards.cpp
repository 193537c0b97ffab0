#include "batch_shards.hpp"

#include "error.hpp"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <map>
#include <string_view>

namespace retap::commands {
namespace {

constexpr std::size_t most_shards = 1'000'000;

using Cells = std::vector<std::string>;

[[noreturn]] void refuse_table(const std::string& name, const std::string& why) {
    throw InputError("'" + name + "' is not a table that 'retap batch' wrote: " + why + ".");
}

/// RFC 4180, with lines that end in LF. Cells keep their quotation marks, so that they are written as they were read.
std::vector<Cells> rows_of_table(const TablePart& part) {
    std::vector<Cells> rows;
    Cells row;
    std::string cell;
    bool within = false;
    for (const char c : part.text) {
        within = c == '"' ? !within : within;
        if (within || (c != ',' && c != '\n')) {
            cell += c;
            continue;
        }
        row.push_back(std::move(cell));
        cell.clear();
        if (c == '\n') {
            rows.push_back(std::move(row));
            row.clear();
        }
    }
    if (within || !cell.empty() || !row.empty()) {
        refuse_table(part.name, "its last line has no end; it may have been cut off");
    }
    return rows;
}

/// As the file is called, for the order; batch sorts by these bytes.
std::string bare(const std::string& cell) {
    if (!cell.starts_with('"')) {
        return cell;
    }
    std::string text;
    for (std::size_t i = 1; i + 1 < cell.size(); ++i) {
        text += cell[i];
        i += cell[i] == '"' ? 1U : 0U; // doubled within
    }
    return text;
}

} // namespace

Shard shard_from(const std::string& text) {
    Shard shard;
    const std::size_t slash = text.find('/');
    const auto read = [](std::string_view digits, std::size_t& number) {
        const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
        return error == std::errc() && end == digits.data() + digits.size();
    };
    const std::string_view all = text;
    if (slash == std::string::npos || !read(all.substr(0, slash), shard.number) ||
        !read(all.substr(slash + 1), shard.of) || shard.number < 1 || shard.number > shard.of ||
        shard.of > most_shards) {
        throw UsageError("'" + text + "' is no part: --shard 3/100 is the third of a hundred.");
    }
    return shard;
}

std::vector<std::filesystem::path> files_of(const Shard& shard, const std::vector<std::filesystem::path>& files) {
    std::vector<std::filesystem::path> chosen;
    for (const auto& file : files) {
        std::uint64_t hash = 0xcbf29ce484222325U; // the offset and prime of FNV-1a, as published by its authors
        for (const char c : file.filename().string()) {
            hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
        }
        if (hash % shard.of == shard.number - 1) {
            chosen.push_back(file);
        }
    }
    return chosen;
}

std::string merged_tables(const std::vector<TablePart>& parts) {
    Cells columns;
    std::map<std::string, std::pair<Cells, const Cells*>> by_file; // its cells, and the columns of its table
    std::vector<std::vector<Cells>> tables;
    tables.reserve(parts.size());
    for (const TablePart& part : parts) {
        const auto& rows = tables.emplace_back(rows_of_table(part));
        if (rows.empty() || rows.front().size() < 2 || rows.front()[0] != "file" || rows.front()[1] != "error") {
            refuse_table(part.name, "it does not begin with the columns file and error");
        }
        for (const std::string& column : rows.front()) {
            if (std::ranges::find(columns, column) == columns.end()) {
                columns.push_back(column);
            }
        }
        for (std::size_t i = 1; i < rows.size(); ++i) {
            if (rows[i].size() != rows.front().size()) {
                refuse_table(part.name, "line " + std::to_string(i + 1) + " has " + std::to_string(rows[i].size()) +
                                            " cells and not " + std::to_string(rows.front().size()));
            }
            if (!by_file.emplace(bare(rows[i].front()), std::pair(rows[i], &rows.front())).second) {
                throw InputError("The file " + rows[i].front() + " stands in '" + part.name +
                                 "' and in a table before it. Give each part once.");
            }
        }
    }
    std::string out;
    const auto line = [&](const auto& cell_of) {
        for (std::size_t i = 0; i < columns.size(); ++i) {
            out += (i == 0 ? "" : ",") + cell_of(columns[i]);
        }
        out += "\n";
    };
    line([](const std::string& column) { return column; });
    for (const auto& [file, row] : by_file) {
        line([&, &cells = row.first, &there = *row.second](const std::string& column) {
            const auto found = std::ranges::find(there, column);
            return found == there.end() ? std::string() : cells[static_cast<std::size_t>(found - there.begin())];
        });
    }
    return out;
}

} // namespace retap::commands
