// The parts of `retap lesson`, each in a file of its own.
#pragma once

#include "command_line.hpp"

namespace retap::commands {

void add_lesson_bench(Command lesson);
void add_lesson_chart(Command lesson);
void add_lesson_list(Command lesson);
void add_lesson_run(Command lesson);
void add_lesson_test(Command lesson);
void add_lesson_results(Command lesson);
void add_lesson_own(Command lesson);

} // namespace retap::commands
