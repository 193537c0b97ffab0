// A part of the validation page: words and tables, plots, and the numbers behind them.
#pragma once

#include "validate/contact_times.hpp"
#include "validate/echoes.hpp"
#include "validate/pairs.hpp"
#include "validate/taps_found.hpp"

#include <span>
#include <string>
#include <vector>

namespace retap::validate {

struct NamedFile {
    std::string name;
    std::string content;
};

struct Section {
    std::string title;
    std::string text{};               ///< Markdown without the plots
    std::vector<NamedFile> plots{};   ///< SVG
    std::vector<NamedFile> numbers{}; ///< CSV
};

/// One line a family, how the likeness climbs while a filling is brought down, and what is true of the pairs.
[[nodiscard]] Section summary_section(std::span<const PairResult> pairs);
/// Area under ROC by measure and condition, verdict shares against the aims, calibration.
[[nodiscard]] Section table_section(std::span<const PairResult> pairs);
[[nodiscard]] Section verdict_section(std::span<const PairResult> pairs);
[[nodiscard]] Section calibration_section(std::span<const PairResult> pairs);
[[nodiscard]] Section contacts_section(std::span<const ContactResult> contacts);
[[nodiscard]] Section taps_section(std::span<const TapsResult> taps);
[[nodiscard]] Section echoes_section(std::span<const EchoResult> echoes);

} // namespace retap::validate
