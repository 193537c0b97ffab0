// retap lesson chart: a drawn mouth is charted, its marks are named, and what is next is said.
#include "aside_file.hpp"
#include "chart/notation.hpp"
#include "error.hpp"
#include "lesson/chart_pictures.hpp"
#include "lesson_answer.hpp"
#include "lesson_commands.hpp"
#include "lesson_text.hpp"
#include "outputs.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <fstream>
#include <iostream>
#include <memory>
#include <optional>
#include <random>
#include <string>
#include <vector>

namespace retap::commands {
namespace {

struct ChartOptions {
    int number = 1;
    std::optional<unsigned> seed;
    std::string numbering = "iso";
    std::string out;
    std::string answers;
    std::string beside;
    bool json = false;
};

std::vector<std::string> lines_of(std::istream& in) {
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) {
        if (const auto first = line.find_first_not_of(" \t\r"); first != std::string::npos && line[first] != '#') {
            lines.push_back(line.substr(first, line.find_last_not_of(" \t\r") + 1 - first));
        }
    }
    return lines;
}

std::vector<std::string> lines_in(const std::string& file) {
    if (file == "-") {
        return lines_of(std::cin);
    }
    std::ifstream in(file);
    if (!in) {
        throw InputError("The answers in '" + file + "' cannot be read. Give a text file, or - for standard input.");
    }
    return lines_of(in);
}

lesson::ChartAnswers answers_in(const lesson::ChartLesson& lesson, const std::string& file) {
    const auto lines = lines_in(file);
    const std::size_t charts = 1 + lesson.pictures.size();
    if (lines.size() != charts + lesson.questions.size()) {
        throw InputError("'" + file + "' has " + std::to_string(lines.size()) + " lines, and " +
                         std::to_string(charts + lesson.questions.size()) +
                         " are asked for: the film holds, the marks of each drawing, and a letter for each question.");
    }
    const std::vector<std::string> marks(lines.begin() + 1, lines.begin() + static_cast<std::ptrdiff_t>(charts));
    std::vector<std::size_t> choices;
    for (std::size_t i = 0; i < lesson.questions.size(); ++i) {
        const auto choice = choice_meant(lines[charts + i], lesson.questions[i].choices);
        if (!choice) {
            throw InputError("'" + lines[charts + i] + "' in '" + file + "' is no choice of question " +
                             std::to_string(i + 1) + ". Answer with a letter from a to " +
                             choice_letter(lesson.questions[i].choices.size() - 1) + ".");
        }
        choices.push_back(*choice);
    }
    return lesson::chart_answers(lesson, lines.front(), marks, choices);
}

/// Asks again after a chart that cannot be read: a slip of the fingers is no wrong answer.
template <class Read>
std::string chart_typed(const std::string& question, Read read) {
    for (std::string line;;) {
        std::cerr << question << " ";
        if (!std::getline(std::cin, line)) {
            throw InputError("The answers ended before the questions did. Answer every question, or stop with Ctrl-C.");
        }
        try {
            read(line);
            return line;
        } catch (const InputError& fault) {
            std::cerr << fault.what() << "\n";
        }
    }
}

lesson::ChartAnswers answers_typed(const lesson::ChartLesson& lesson) {
    const auto holds = [&](const std::string& text) { (void)chart::read_holds(text, lesson.numbering); };
    const auto marks = [&](const std::string& text) { (void)chart::read_marks(text, lesson.numbering); };
    const std::string film = chart_typed("The film, as in hold 17..14; slide 26:", holds);
    std::vector<std::string> charts;
    for (const lesson::ChartPicture& picture : lesson.pictures) {
        charts.push_back(chart_typed(picture.title + ". The marks, as in 16 CF+* MP~:", marks));
    }
    std::vector<std::size_t> choices;
    for (const lesson::ChartQuestion& question : lesson.questions) {
        std::cerr << wrapped(question.asked);
        for (std::size_t i = 0; i < question.choices.size(); ++i) {
            std::cerr << "  " << choice_letter(i) << "  " << question.choices[i] << "\n";
        }
        choices.push_back(ask("Your answer:", question.choices));
    }
    return lesson::chart_answers(lesson, film, charts, choices);
}

std::string asked_text(const lesson::ChartLesson& lesson, const std::string& page) {
    std::string text = "Patient " + std::to_string(lesson.number) + ": " + lesson.title + "\n" + wrapped(lesson.words);
    text += page.empty() ? "Get the drawings with --out FILE.html.\n" : "Drawings: " + page + "\n";
    text += wrapped("Answer in a file with --answers, a line each: the film holds; the marks of each drawing; a "
                    "letter for each question.");
    for (const lesson::ChartPicture& picture : lesson.pictures) {
        text += "  drawing: " + picture.title + "\n";
    }
    for (std::size_t i = 0; i < lesson.questions.size(); ++i) {
        text += wrapped(std::to_string(i + 1) + ". " + lesson.questions[i].asked);
        for (std::size_t j = 0; j < lesson.questions[i].choices.size(); ++j) {
            text += wrapped(choice_letter(j) + "  " + lesson.questions[i].choices[j], "  ");
        }
    }
    return text;
}

std::string chart_result_text(const lesson::ChartLesson& lesson, const lesson::ChartResult& result,
                              const std::optional<std::vector<lesson::ChartAgreement>>& second) {
    std::string text = "Patient " + std::to_string(lesson.number) + ": " + lesson.title + "\n";
    text += std::to_string(result.right()) + " of " + std::to_string(result.items.size()) + " right. " +
            (result.passed() ? "Passed.\n" : "Not passed: look again at what follows.\n");
    for (const lesson::ChartItem& item : result.items) {
        if (!item.right) {
            text += wrapped(item.part + ": " + item.asked + " You: " + item.said + ". It is: " + item.is + ". " +
                                item.because,
                            "  ");
        }
    }
    text += "You and the drawing\n";
    for (const lesson::ChartAgreement& part : result.with_drawing) {
        text += wrapped(lesson::agreement_sentence(part) + ".", "  ");
    }
    if (second) {
        text += "You and the other one\n";
        for (const lesson::ChartAgreement& part : *second) {
            text += wrapped(lesson::agreement_sentence(part) + ".", "  ");
        }
    }
    return text;
}

void run_chart_lesson(const ChartOptions& options) {
    const auto numbering = chart::numbering_from(options.numbering).value_or(chart::Numbering::iso);
    const unsigned seed = options.seed.value_or(std::random_device()() % 1000);
    const lesson::ChartLesson lesson = lesson::chart_lesson(options.number, seed, numbering);
    if (!options.out.empty()) {
        refuse_to_overwrite(options.out, {options.answers, options.beside}, "answers");
        write_file_whole(options.out, lesson::chart_lesson_page(lesson, "Retap " RETAP_VERSION));
    }
    if (!options.beside.empty() && options.answers.empty()) {
        throw UsageError("--beside needs --answers: two people's answers are held beside each other.");
    }
    const bool typed = options.answers.empty() && at_terminal() && !options.json;
    if (typed) {
        print_text(asked_text(lesson, options.out));
    }
    if (options.answers.empty() && !typed) {
        print_text(options.json ? report::json_text(lesson::chart_lesson_json(lesson, nullptr, nullptr))
                                : asked_text(lesson, options.out) + "The same patient again: --seed " +
                                      std::to_string(seed) + "\n");
        return;
    }
    const lesson::ChartAnswers answers = typed ? answers_typed(lesson) : answers_in(lesson, options.answers);
    const lesson::ChartResult result = lesson::check_charts(lesson, answers);
    std::optional<std::vector<lesson::ChartAgreement>> second;
    if (!options.beside.empty()) {
        second = lesson::agreement_between(answers, answers_in(lesson, options.beside));
    }
    print_text(options.json ? report::json_text(lesson::chart_lesson_json(lesson, &result, second ? &*second : nullptr))
                            : chart_result_text(lesson, result, second));
}

} // namespace

void add_lesson_chart(Command lesson) {
    auto options = std::make_shared<ChartOptions>();
    Command command = lesson.subcommand("chart", "Chart an invented patient from drawings, and say what is next");
    command.option("NUMBER", options->number, "Which patient").required().within(1, lesson::chart_patient_count);
    command.option("--seed", options->seed, "Fixes the side of the mouth and the order of the choices");
    command.option("--numbering", options->numbering, "How teeth are numbered")
        .one_of({"iso", "universal"})
        .show_default();
    command.option("--out", options->out, "Write the drawings and questions as one page").type_name("FILE.html");
    command.option("--answers", options->answers, "Your answers, a line each; - for standard input").type_name("FILE");
    command.option("--beside", options->beside, "A second person's answers: how far the two of you agree")
        .type_name("FILE");
    command.json_flag(options->json);
    command.footer("Answers are, a line each: the film holds; the marks of each drawing by their places; a letter for\n"
                   "each question. Lines that begin with # are passed over. All has to be right to pass.");
    command.when_run([options] { run_chart_lesson(*options); });
}

} // namespace retap::commands
