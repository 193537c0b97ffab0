// retap lesson: hear and measure bites of known balance.
#include "lesson_commands.hpp"

#include "aside_file.hpp"
#include "bite/lesson.hpp"
#include "columns.hpp"
#include "error.hpp"
#include "lesson/results.hpp"
#include "lesson_export.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <filesystem>
#include <memory>
#include <string>

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

void add_lesson_results(CLI::App& lesson) {
    struct Options {
        std::string learner;
        std::string results;
        std::string csv;
    };
    auto options = std::make_shared<Options>();
    CLI::App& command = *lesson.add_subcommand("results", "Show or export what learners reached in listening tests");
    command.add_option("--learner", options->learner, "Only this label")->type_name("LABEL");
    command.add_option("--results", options->results, "The file that results are kept in")->type_name("FILE");
    command.add_option("--csv", options->csv, "Write the table, for a course")->type_name("OUT.csv");
    command.callback([options] {
        const auto file = lesson::results_file(options->results);
        const std::string table = lesson::results_csv(file, options->learner);
        if (options->csv.empty()) {
            print(table);
        } else {
            std::error_code not_there; // then it cannot be the same file
            if (std::filesystem::equivalent(options->csv, file, not_there)) {
                throw UsageError("Writing '" + options->csv + "' would destroy the results. Give another name");
            }
            write_file_whole(options->csv, table);
        }
    });
}

void add_lesson(CLI::App& program) {
    auto page = std::make_shared<std::string>();
    CLI::App& command = *program.add_subcommand("lesson", "Hear and measure bites of known balance");
    command.require_subcommand(0, 1);
    command.add_option("--export", *page, "Write all lessons as one page with sounds, plots and a quiz")
        ->type_name("FILE.html");
    add_lesson_list(command);
    add_lesson_run(command);
    add_lesson_bench(command);
    add_lesson_test(command);
    add_lesson_results(command);
    add_lesson_own(command);
    command.callback([&command, page] {
        if (!page->empty()) {
            export_lessons(*page);
            print("Handout: " + *page + "\n");
        } else if (command.get_subcommands().empty()) {
            throw UsageError("Say which part of the lessons, as in: retap lesson list");
        }
    });
}

} // namespace retap::commands
