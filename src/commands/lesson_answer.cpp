#include "lesson_answer.hpp"

#include "error.hpp"

#include <cctype>
#include <cstdio>
#include <iostream>
#include <unistd.h>

namespace retap::commands {
namespace {

std::string answer_text(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (std::isspace(static_cast<unsigned char>(c)) == 0) {
            out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        }
    }
    return out;
}

} // namespace

std::string choice_letter(std::size_t index) {
    return {static_cast<char>('a' + static_cast<char>(index))};
}

std::optional<std::size_t> choice_meant(const std::string& answer, const std::vector<std::string>& choices) {
    const std::string said = answer_text(answer);
    for (std::size_t i = 0; i < choices.size(); ++i) {
        if (!said.empty() &&
            (said == choice_letter(i) || said == std::to_string(i + 1) || said == answer_text(choices[i]))) {
            return i;
        }
    }
    return std::nullopt;
}

std::size_t ask(const std::string& question, const std::vector<std::string>& choices) {
    std::string line;
    do {
        std::fputs((question + " ").c_str(), stderr);
        if (!std::getline(std::cin, line)) {
            std::fputs("\n", stderr); // the question stands there
            throw InputError("The answers ended before the questions did. Answer every question, or stop with Ctrl-C.");
        }
    } while (!choice_meant(line, choices));
    return *choice_meant(line, choices);
}

bool at_terminal() {
    return isatty(STDIN_FILENO) == 1;
}

} // namespace retap::commands
