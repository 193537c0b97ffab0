#include "command_line.hpp"
#include "error.hpp"
#include "terminal.hpp"

#include <exception>
#include <iostream>
#include <new>

namespace {

constexpr int our_fault = 1;

void add_commands(retap::commands::Command program) {
    retap::commands::add_inspect(program);
    retap::commands::add_compare(program);
    retap::commands::add_batch(program);
    retap::commands::add_record(program);
    retap::commands::add_devices(program);
    retap::commands::add_play(program);
    retap::commands::add_chairside(program);
    retap::commands::add_visit(program);
    retap::commands::add_school(program);
    retap::commands::add_lesson(program);
}

void run(int argc, char** argv) {
    retap::commands::Program program("retap", "Compares how a bite sounds before and after a restoration.",
                                     "retap " RETAP_VERSION);
    retap::commands::Command all = program.command();
    all.footer( // before the commands, which take it over
        "Exit status: 0 done, whatever the verdict; 2 wrong usage; 3 input cannot be used; 4 device trouble;\n"
        "5 store trouble; 1 a fault of ours. Sound supports film holds and paper marks; it does not replace\n"
        "them, and it is no diagnosis.");
    all.when_run([all] {
        if (!all.subcommand_given()) {
            throw retap::UsageError("Say what to do, as in: retap inspect TAKE.\nTry: retap --help");
        }
    });
    add_commands(all);
    program.run(argc, argv);
}

} // namespace

int main(int argc, char** argv) {
    try {
        run(argc, argv);
        return 0;
    } catch (const retap::Error& error) {
        std::cerr << "retap: " << retap::commands::shown(error.what()) << '\n';
        return error.exit_code();
    } catch (const std::bad_alloc&) {
        std::cerr << "retap: There is not enough memory for this. Close other programs and try again.\n";
        return our_fault;
    } catch (const std::exception& error) {
        std::cerr << "retap: This is a fault of the program, not of yours: " << error.what() << '\n';
        return our_fault;
    }
}
