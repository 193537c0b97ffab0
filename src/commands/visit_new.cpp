// retap visit new
#include "chart/notation.hpp"
#include "error.hpp"
#include "terminal.hpp"
#include "visit/defaults.hpp"
#include "visit/inherit.hpp"
#include "visit/text_check.hpp"
#include "visit_commands.hpp"
#include "visit_text.hpp"

namespace retap::commands {
namespace {

struct VisitNewOptions {
    std::string label;
    std::string teeth;
    std::string numbering;
    std::string procedure;
    std::string worker;
    std::string supervisor;
    visit::VisitId follows = 0;
    bool json = false;
};

std::string first_said(const std::string& given, const std::string& earlier, const std::string& usual) {
    return !given.empty() ? given : !earlier.empty() ? earlier : usual;
}

/// What is said on the command line, else what the earlier visit says, else what this machine fills in.
visit::Opened opening(const VisitNewOptions& options, const visit::Opened& earlier, bool follows,
                      const visit::Defaults& defaults) {
    visit::Opened opened;
    if (!options.numbering.empty()) {
        opened.numbering = numbering_named(options.numbering);
    } else if (follows) {
        opened.numbering = earlier.numbering;
    } else if (defaults.numbering) {
        opened.numbering = *defaults.numbering;
    } else {
        throw UsageError("Say how teeth are numbered: --numbering iso or --numbering universal. To have this machine "
                         "remember it: retap visit defaults --numbering iso");
    }
    if (options.teeth.empty() && !follows) {
        throw UsageError("Say which teeth are treated, as in: --teeth 16");
    }
    opened.treated = options.teeth.empty() ? earlier.treated : chart::read_teeth(options.teeth, opened.numbering);
    opened.label = options.label.empty() && follows ? earlier.label : options.label;
    opened.procedure = first_said(options.procedure, earlier.procedure, "");
    opened.worker = first_said(options.worker, defaults.worker, earlier.worker);
    opened.supervisor = first_said(options.supervisor, earlier.supervisor, defaults.supervisor);
    if (opened.worker.empty()) {
        throw UsageError(
            "Say who works: --worker NAME. To have this machine remember it: retap visit defaults --worker "
            "NAME");
    }
    return opened;
}

/// What came over from the earlier visit, and what did not.
std::string taken_text(const visit::Visit& visit) {
    std::string text;
    for (const std::string& sentence : visit::sentences(visit.chain)) {
        text += "\n" + sentence;
    }
    if (visit.chain.earlier.empty()) {
        return text;
    }
    const visit::Look* before = visit.baseline();
    if (before == nullptr) {
        return text + "\nNo baseline is taken over: other teeth are treated, or that visit has none.";
    }
    text += "\nTaken over as baseline:" + std::string(before->holds ? " holds" : "") + (before->marks ? " marks" : "") +
            (before->takes.empty() ? "" : " sound") + ". What is found now belongs to the look 'recheck'.";
    for (const auto& decision : visit.decisions) {
        text += "\nStill open from there: " + said_text(decision);
    }
    return text;
}

void run(const VisitNewOptions& options, const StoreOption& store) {
    const auto file = visit::defaults_file();
    const visit::Defaults defaults = file ? visit::read_defaults(*file) : visit::Defaults();
    if (options.label.empty() && options.follows == 0) {
        throw UsageError("Give the label from the clinic's chart, as in: retap visit new C-1042 --teeth 16");
    }
    visit::Opened earlier;
    if (options.follows != 0) {
        earlier = store.open()->load(options.follows).opened.content;
    }
    const visit::Opened opened = opening(options, earlier, options.follows != 0, defaults);
    const auto open = store.open_or_make();
    const visit::Stamp stamp = stamp_now(opened.worker);
    const visit::VisitId id =
        options.follows != 0 ? open->open_following(options.follows, stamp, opened) : open->open_visit(stamp, opened);
    if (visit::looks_like_a_name(opened.label)) {
        warn("'" + opened.label +
             "' looks like a name. A label from the clinic's chart keeps the patient's name out of "
             "the record; change it with: retap visit correct " +
             std::to_string(id) + " 1 --label LABEL --reason name");
    }
    print_written(options.json, id, 1,
                  "opened for '" + opened.label + "', tooth " + list(opened.treated, opened.numbering) + " (" +
                      std::string(chart::word(opened.numbering)) + ")." + taken_text(open->load(id)));
}

} // namespace

void add_visit_new(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitNewOptions>();
    Command command = add_visit_command(group, "new", "Open a visit");
    command.option("LABEL", options->label,
                   "Label from the clinic's chart; not a name. That of the earlier visit with --follows");
    command
        .option("--teeth", options->teeth,
                R"(The teeth that are treated, as in "16" or "14..16"; those of the earlier visit with --follows)")
        .type_name("TEETH");
    add_numbering_option(command, options->numbering);
    command.option("--procedure", options->procedure, "What is done").type_name("TEXT");
    command.option("--worker", options->worker, "Who works; else as in 'retap visit defaults'").type_name("NAME");
    command.option("--supervisor", options->supervisor, "Who supervises; else as in 'retap visit defaults'")
        .type_name("NAME");
    command
        .option("--follows", options->follows,
                "An earlier visit that this one continues: its baseline and what it left open are taken over")
        .counting_number()
        .type_name("VISIT");
    command.json_flag(options->json);
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
