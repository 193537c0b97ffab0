// retap lesson: hear and measure bites of known balance.
#include "lesson_commands.hpp"

#include "aside_file.hpp"
#include "bite/course.hpp"
#include "columns.hpp"
#include "error.hpp"
#include "lesson/results.hpp"
#include "lesson_export.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace retap::commands {

void add_lesson_list(Command lesson) {
    auto json = std::make_shared<bool>(false);
    Command command = lesson.subcommand("list", "Say which guided lessons there are");
    command.json_flag(*json);
    command.when_run([json] {
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

namespace {

struct ResultsOptions {
    std::string learner;
    std::string results;
    std::string csv;
    bool json = false;
};

report::Json results_json(const std::vector<lesson::ListeningResult>& results) {
    constexpr int digits = 2;
    const auto number = [](const std::optional<double>& value) {
        return value ? report::rounded(*value, digits) : report::Json(nullptr);
    };
    report::Json tests = report::Json::array();
    for (const lesson::ListeningResult& result : results) {
        tests.push_back({{"when", result.when},
                         {"learner", result.learner},
                         {"way", result.way},
                         {"closing_speed_mm_s", report::rounded(result.speed_mm_s, 1)},
                         {"trials", result.trials},
                         {"right", result.right},
                         {"value", number(result.value)},
                         {"unit", result.unit},
                         {"low", number(result.low)},
                         {"high", number(result.high)},
                         {"retap_right", result.retap_right}});
    }
    return {{"format", "retap.lesson-results/1"}, {"tests", std::move(tests)}};
}

void show_results(const ResultsOptions& options) {
    const auto file = lesson::results_file(options.results);
    // Before the first test there is nothing in the usual place; a file that was named has to be there.
    const bool none_yet = options.results.empty() && !std::filesystem::exists(file);
    const auto results =
        none_yet ? std::vector<lesson::ListeningResult>() : lesson::read_results(file, options.learner);
    if (!options.csv.empty()) {
        std::error_code not_there; // then it cannot be the same file
        if (std::filesystem::equivalent(options.csv, file, not_there)) {
            throw UsageError("Writing '" + options.csv + "' would destroy the results. Give another name.");
        }
        write_file_whole(options.csv, lesson::results_csv(results));
    }
    if (options.json) {
        print(report::json_text(results_json(results)));
    } else if (!options.csv.empty()) {
        print("Table: " + options.csv + "\n");
    } else if (results.empty()) {
        print("No results yet. They come from: retap lesson test --learner LABEL\n");
    } else {
        print(lesson::results_csv(results));
    }
}

} // namespace

void add_lesson_results(Command lesson) {
    auto options = std::make_shared<ResultsOptions>();
    Command command = lesson.subcommand("results", "Show or export what learners reached in listening tests");
    command.option("--learner", options->learner, "Only this label").type_name("LABEL");
    command.option("--results", options->results, "The file that results are kept in").type_name("FILE");
    command.option("--csv", options->csv, "Write the table, for a course").type_name("OUT.csv");
    command.json_flag(options->json);
    command.when_run([options] { show_results(*options); });
}

void add_lesson(Command program) {
    auto page = std::make_shared<std::string>();
    Command command = program.subcommand("lesson", "Hear and measure bites of known balance");
    command.option("--export", *page, "Write all lessons as one page with sounds, plots and a quiz")
        .type_name("FILE.html");
    add_lesson_list(command);
    add_lesson_run(command);
    add_lesson_bench(command);
    add_lesson_test(command);
    add_lesson_chart(command);
    add_lesson_results(command);
    add_lesson_own(command);
    command.when_run([command, page] {
        if (!page->empty()) {
            export_lessons(*page);
            print("Handout: " + *page + "\n");
        } else if (!command.subcommand_given()) {
            throw UsageError("Say which part of the lessons, as in: retap lesson list");
        }
    });
}

} // namespace retap::commands
