// The written page of a validation run.
#pragma once

#include "validate/options.hpp"
#include "validate/section.hpp"
#include "validate/study.hpp"

#include <span>
#include <string>
#include <vector>

namespace retap::validate {

/// One for each part that was asked for.
[[nodiscard]] std::vector<Section> sections_of(const Options& options, const Results& results);

/// The page as Markdown, plots by their file names.
[[nodiscard]] std::string page(const Options& options, std::span<const Section> sections, double took_s);

/// Writes README.md, plots and numbers into the folder, which is made when it is not there. Throws InputError.
void write_page(const Options& options, std::span<const Section> sections, double took_s);

} // namespace retap::validate
