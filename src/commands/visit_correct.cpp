// retap visit correct: nothing is overwritten; a new entry stands in for an earlier one.
#include "chart/notation.hpp"
#include "error.hpp"
#include "terminal.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct VisitCorrectOptions {
    visit::VisitId id = 0;
    int entry = 0;
    std::string chart;
    std::string reason;
    bool withdraw = false;
    std::string label;
    std::string teeth;
    std::string numbering;
    std::string procedure;
    std::string worker;
    std::string supervisor;
    std::string by;
    bool json = false;

    [[nodiscard]] bool changes_opening() const {
        return !(label.empty() && teeth.empty() && numbering.empty() && procedure.empty() && worker.empty() &&
                 supervisor.empty());
    }
};

visit::Opened changed(visit::Opened opened, const VisitCorrectOptions& options) {
    const auto set = [](std::string& field, const std::string& wanted) {
        if (!wanted.empty()) {
            field = wanted;
        }
    };
    set(opened.label, options.label);
    set(opened.procedure, options.procedure);
    set(opened.worker, options.worker);
    set(opened.supervisor, options.supervisor);
    if (!options.numbering.empty()) {
        opened.numbering = numbering_named(options.numbering);
    }
    if (!options.teeth.empty()) {
        opened.treated = chart::read_teeth(options.teeth, opened.numbering);
    }
    return opened;
}

visit::Body new_body(const visit::Entry& entry, const VisitCorrectOptions& options, chart::Numbering numbering) {
    if (options.withdraw) {
        return visit::Withdrawn{};
    }
    if (const auto* opened = std::get_if<visit::Opened>(&entry.body)) {
        if (!options.changes_opening()) {
            throw UsageError("Say what to change of the opening: --label, --teeth, --numbering, --procedure, --worker "
                             "or --supervisor.");
        }
        return changed(*opened, options);
    }
    if (options.chart.empty()) {
        throw UsageError("Say what the chart should be, or withdraw the entry with --withdraw.");
    }
    if (std::holds_alternative<visit::HoldsCharted>(entry.body)) {
        return visit::HoldsCharted{chart::read_holds(options.chart, numbering)};
    }
    if (std::holds_alternative<visit::MarksCharted>(entry.body)) {
        return visit::MarksCharted{chart::read_marks(options.chart, numbering)};
    }
    throw UsageError("Entry " + std::to_string(entry.number) + " is of the kind '" + std::string(kind_of(entry.body)) +
                     "' and is not corrected in place. Withdraw it with --withdraw and enter it again.");
}

/// Another numbering writes the same teeth in other numbers; whoever typed them in the wrong one meant other teeth.
std::string numbering_note(const VisitCorrectOptions& options, const visit::Visit& visit) {
    if (options.numbering.empty() || !options.teeth.empty()) {
        return "";
    }
    const chart::Numbering numbering = numbering_named(options.numbering);
    return "\nThe tooth is the same, written " + list(visit.opened.content.treated, numbering) +
           " from now on. If its number was typed in the other numbering, correct it with --numbering and --teeth; "
           "charts "
           "that were typed so as well.";
}

void run(const VisitCorrectOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    if (options.entry > static_cast<int>(visit.entries.size())) {
        throw InputError("Entry " + std::to_string(options.entry) + " of visit " + std::to_string(options.id) +
                         " does not exist; see the entries with: retap visit show " + std::to_string(options.id) +
                         " --entries");
    }
    const visit::Entry& entry = visit.entries.at(static_cast<std::size_t>(options.entry) - 1);
    const int number = open->add(options.id, {stamp_now(options.by, visit), entry.look,
                                              visit::Correction{options.entry, options.reason},
                                              new_body(entry, options, visit.numbering())});
    print_written(options.json, options.id, number,
                  (options.withdraw ? "withdraws entry " : "stands in for entry ") + std::to_string(options.entry) +
                      ", which stays in the record." + numbering_note(options, visit));
}

} // namespace

void add_visit_correct(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitCorrectOptions>();
    Command command =
        add_visit_command(group, "correct", "Correct or withdraw an entry; the earlier one stays readable");
    add_visit_argument(command, options->id);
    command.option("ENTRY", options->entry, "Number of the entry").required().counting_number();
    command.option("CHART", options->chart, "The chart as it should be, for holds and marks");
    command.option("--reason", options->reason, "Why").required().type_name("TEXT");
    command.flag("--withdraw", options->withdraw, "Take the entry back instead");
    command.option("--label", options->label, "For the opening (entry 1): another label");
    command.option("--teeth", options->teeth, "For the opening: other teeth");
    add_numbering_option(command, options->numbering);
    command.option("--procedure", options->procedure, "For the opening: another procedure");
    command.option("--worker", options->worker, "For the opening: who works");
    command.option("--supervisor", options->supervisor, "For the opening: who supervises");
    add_by_option(command, options->by);
    command.json_flag(options->json);
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
