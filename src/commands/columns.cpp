#include "columns.hpp"

#include <algorithm>
#include <cassert>

namespace retap::commands {

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

void Columns::add(std::vector<std::string> cells) {
    assert(cells.size() <= alignments_.size());
    rows_.push_back(std::move(cells));
}

std::string Columns::text(std::string_view indent) const {
    std::vector<std::size_t> widths(alignments_.size(), 0);
    for (const auto& row : rows_) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            widths[i] = std::max(widths[i], width_of(row[i]));
        }
    }
    std::string out;
    for (const auto& row : rows_) {
        std::string line(indent);
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string padding(widths[i] - width_of(row[i]), ' ');
            line += i == 0 ? "" : "  ";
            line += alignments_[i] == Align::right ? padding + row[i] : row[i] + padding;
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    }
    return out;
}

} // namespace retap::commands
