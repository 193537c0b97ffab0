// The parts of `retap lesson`, each in a file of its own.
#pragma once

#include "command_line.hpp"

namespace retap::commands {

void add_lesson_bench(CLI::App& lesson);
void add_lesson_list(CLI::App& lesson);
void add_lesson_run(CLI::App& lesson);
void add_lesson_test(CLI::App& lesson);
void add_lesson_results(CLI::App& lesson);
void add_lesson_own(CLI::App& lesson);

} // namespace retap::commands
