// Questions that a learner answers, at a terminal or from a script.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace retap::commands {

/// What a choice is called: a for the first.
[[nodiscard]] std::string choice_letter(std::size_t index);

/// The choice meant by `answer`: its letter in any case ("b"), its number ("2") or its words; nothing when none fits.
[[nodiscard]] std::optional<std::size_t> choice_meant(const std::string& answer,
                                                      const std::vector<std::string>& choices);

/// Asks on stderr until a choice is given on stdin. Throws InputError when stdin ends.
[[nodiscard]] std::size_t ask(const std::string& question, const std::vector<std::string>& choices);

/// Whether somebody sits at stdin.
[[nodiscard]] bool at_terminal();

} // namespace retap::commands
