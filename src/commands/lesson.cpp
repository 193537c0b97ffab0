// retap lesson: hear and measure bites of known balance.
#include "lesson_commands.hpp"

#include "bite/lesson.hpp"
#include "columns.hpp"
#include "error.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <memory>

namespace retap::commands {

void add_lesson_list(CLI::App& lesson) {
    auto json = std::make_shared<bool>(false);
    CLI::App& command = *lesson.add_subcommand("list", "Say which guided lessons there are");
    add_json_option(command, *json);
    command.callback([json] {
        report::Json lessons = report::Json::array();
        Columns columns({Columns::Align::right, Columns::Align::left});
        for (int number = 1; number <= bite::lesson_count; ++number) {
            const bite::Lesson one = bite::lesson(number, 1);
            lessons.push_back({{"number", number}, {"title", one.title}});
            columns.add({std::to_string(number), one.title});
        }
        print(*json ? report::json_text({{"format", "retap.lessons/1"}, {"lessons", std::move(lessons)}})
                    : columns.text("  ") + "Begin with: retap lesson run 1 --out FOLDER (or --play)\n");
    });
}

void add_lesson(CLI::App& program) {
    CLI::App& command = *program.add_subcommand("lesson", "Hear and measure bites of known balance");
    command.require_subcommand(0, 1);
    add_lesson_list(command);
    add_lesson_run(command);
    add_lesson_bench(command);
    command.callback([&command] {
        if (command.get_subcommands().empty()) {
            throw UsageError("Say which part of the lessons, as in: retap lesson list");
        }
    });
}

} // namespace retap::commands
