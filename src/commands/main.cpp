#include "command_line.hpp"
#include "error.hpp"
#include "help_text.hpp"
#include "terminal.hpp"

#include <exception>
#include <iostream>
#include <new>
#include <sstream>
#include <string>

namespace {

constexpr int our_fault = 1;
constexpr int wrong_usage = 2;

void add_commands(CLI::App& program) {
    retap::commands::add_inspect(program);
    retap::commands::add_compare(program);
    retap::commands::add_batch(program);
    retap::commands::add_record(program);
    retap::commands::add_devices(program);
    retap::commands::add_play(program);
    retap::commands::add_chairside(program);
    retap::commands::add_visit(program);
    retap::commands::add_lesson(program);
}

/// One line for what was wrong and one for what to do, whichever command it was.
int report_usage(const CLI::App& program, const std::string& fault) {
    std::string command = "retap";
    for (auto chosen = program.get_subcommands(); !chosen.empty(); chosen = chosen.front()->get_subcommands()) {
        command += " " + chosen.front()->get_name();
    }
    std::cerr << "retap: " << fault << ".\nTry: " << command << " --help\n";
    return wrong_usage;
}

/// Help and version, which come as exceptions too.
int show(const CLI::App& program, const CLI::ParseError& asked) {
    std::ostringstream text;
    const int status = program.exit(asked, text, text);
    retap::commands::print(text.str());
    return status;
}

int run(int argc, char** argv) {
    CLI::App program("Compares how a bite sounds before and after a restoration.", "retap");
    program.set_version_flag("--version", "retap " RETAP_VERSION);
    program.formatter(retap::commands::help_formatter()); // before the commands, which take it over
    program.require_subcommand(0, 1);                     // none at all is told below, in words
    program.footer(
        "Exit status: 0 done, whatever the verdict; 2 wrong usage; 3 input cannot be used; 4 device trouble;\n"
        "5 store trouble; 1 a fault of ours. Sound supports film holds and paper marks; it does not replace\n"
        "them, and it is no diagnosis.");
    add_commands(program);
    try {
        program.parse(argc, argv);
    } catch (const CLI::ParseError& outcome) {
        const bool asked_for = outcome.get_exit_code() == 0;
        return asked_for ? show(program, outcome) : report_usage(program, outcome.what());
    }
    return program.get_subcommands().empty() ? report_usage(program, "Say what to do, as in: retap inspect TAKE") : 0;
}

} // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const retap::Error& error) {
        std::cerr << "retap: " << error.what() << '\n';
        return error.exit_code();
    } catch (const std::bad_alloc&) {
        std::cerr << "retap: There is not enough memory for this. Close other programs and try again.\n";
        return our_fault;
    } catch (const std::exception& error) {
        std::cerr << "retap: This is a fault of the program, not of yours: " << error.what() << '\n';
        return our_fault;
    }
}
