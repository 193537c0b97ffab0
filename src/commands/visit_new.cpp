// retap visit new
#include "chart/notation.hpp"
#include "error.hpp"
#include "terminal.hpp"
#include "visit/text_check.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct Options {
    std::string label;
    std::string teeth;
    std::string numbering;
    std::string procedure;
    std::string worker;
    std::string supervisor;
    visit::VisitId follows = 0;
    bool json = false;
};

void run(const Options& options, const StoreOption& store) {
    visit::Opened opened;
    opened.numbering = numbering_named(options.numbering);
    opened.treated = chart::read_teeth(options.teeth, opened.numbering);
    opened.label = options.label;
    opened.procedure = options.procedure;
    opened.worker = options.worker;
    opened.supervisor = options.supervisor;
    const auto open = store.open_or_make();
    if (options.follows != 0) {
        opened.follows = open->load(options.follows).uid;
    }
    const visit::VisitId id = open->open_visit(stamp_now(options.worker), opened);
    if (visit::looks_like_a_name(options.label)) {
        warn("'" + options.label +
             "' looks like a name. A label from the clinic's chart keeps the patient's name out of "
             "the record; change it with: retap visit correct " +
             std::to_string(id) + " 1 --label LABEL --reason name");
    }
    print_written(options.json, id, 1,
                  "opened for '" + opened.label + "', tooth " + list(opened.treated, opened.numbering) + " (" +
                      std::string(chart::word(opened.numbering)) + ").");
}

} // namespace

void add_visit_new(Command group, const StoreOption& store) {
    auto options = std::make_shared<Options>();
    Command command = add_visit_command(group, "new", "Open a visit");
    command.option("LABEL", options->label, "Label from the clinic's chart; not a name").required();
    command.option("--teeth", options->teeth, R"(The teeth that are treated, as in "16" or "14..16")")
        .required()
        .type_name("TEETH");
    add_numbering_option(command, options->numbering).required();
    command.option("--procedure", options->procedure, "What is done").type_name("TEXT");
    command.option("--worker", options->worker, "Who works").required().type_name("NAME");
    command.option("--supervisor", options->supervisor, "Who supervises").type_name("NAME");
    command.option("--follows", options->follows, "An earlier visit that this one continues")
        .counting_number()
        .type_name("VISIT");
    command.json_flag(options->json);
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
