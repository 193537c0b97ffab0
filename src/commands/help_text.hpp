// How --help reads: for people who know no type names.
#pragma once

#include <memory>

namespace CLI {
class FormatterBase;
} // namespace CLI

namespace retap::commands {

/// Names what is to be given (N, TEXT, or the words to choose from) beside the option, and says limits and what holds
/// when nothing is given in its description.
[[nodiscard]] std::shared_ptr<CLI::FormatterBase> help_formatter();

} // namespace retap::commands
