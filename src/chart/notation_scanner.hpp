// Reads the pieces that both kinds of chart are made of. Part of notation.hpp; not for others.
#pragma once

#include "chart/notation.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

class NotationScanner {
public:
    /// Takes a leading "iso:" or "universal:" off the text.
    NotationScanner(std::string_view text, Numbering numbering);

    [[nodiscard]] Numbering numbering() const { return numbering_; }
    [[nodiscard]] std::size_t at() const { return at_; }
    /// Skips what separates; then whether the text is over.
    bool at_end();
    /// The character here, 0 at the end. Letters come in lower case.
    [[nodiscard]] char here() const;
    [[nodiscard]] bool at_digit() const;
    [[nodiscard]] bool at_letter() const;
    /// Steps over `piece` when it stands here.
    bool take(std::string_view piece);
    /// The letters here, in lower case; may be empty.
    std::string take_letters();
    /// The tooth here.
    Tooth take_tooth();
    /// The teeth of a range whose first one was just read, or that one alone.
    std::vector<Tooth> take_rest_of_range(Tooth first);

    [[noreturn]] void fail(std::size_t at, const std::string& fault) const;

private:
    std::string_view text_;
    Numbering numbering_;
    std::size_t at_ = 0;
};

} // namespace retap::chart
