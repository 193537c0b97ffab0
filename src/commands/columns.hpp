// Plain text in columns, for the terminal.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::commands {

/// Rows of cells, padded so that they line up: numbers to the right, words to the left. Widths count characters of
/// UTF-8, not bytes. The last column is never padded.
class Columns {
public:
    enum class Align { left, right };

    explicit Columns(std::vector<Align> alignments) : alignments_(std::move(alignments)) {}

    /// At most as many cells as there are columns (asserted).
    void add(std::vector<std::string> cells);
    /// Every row on a line of its own, each behind `indent`.
    [[nodiscard]] std::string text(std::string_view indent = "") const;

private:
    std::vector<Align> alignments_;
    std::vector<std::vector<std::string>> rows_;
};

/// Characters, not bytes, of UTF-8.
[[nodiscard]] std::size_t width_of(std::string_view text);

} // namespace retap::commands
