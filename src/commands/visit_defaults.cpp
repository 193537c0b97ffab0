// retap visit defaults
#include "error.hpp"
#include "outputs.hpp"
#include "report/json.hpp"
#include "terminal.hpp"
#include "visit/defaults.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct VisitDefaultsOptions {
    std::optional<std::string> worker;
    std::optional<std::string> supervisor;
    std::string numbering;
    bool forget = false;
    bool json = false;

    [[nodiscard]] bool changes() const { return worker || supervisor || !numbering.empty() || forget; }
};

std::string shown(const std::string& value) {
    return value.empty() ? "not set" : value;
}

void run(const VisitDefaultsOptions& options) {
    const auto file = visit::defaults_file();
    if (!file) {
        throw UsageError("It is not known where to keep defaults: HOME is not set.");
    }
    visit::Defaults defaults = options.forget ? visit::Defaults() : visit::read_defaults(*file);
    defaults.worker = options.worker.value_or(defaults.worker);
    defaults.supervisor = options.supervisor.value_or(defaults.supervisor);
    if (!options.numbering.empty()) {
        defaults.numbering = numbering_named(options.numbering);
    }
    if (options.changes()) {
        write_privately();
        visit::write_defaults(*file, defaults);
    }
    const std::string numbering = defaults.numbering ? std::string(chart::word(*defaults.numbering)) : "";
    if (options.json) {
        print(report::json_text({{"format", "retap.defaults/1"},
                                 {"file", file->string()},
                                 {"worker", defaults.worker},
                                 {"supervisor", defaults.supervisor},
                                 {"numbering", numbering.empty() ? report::Json(nullptr) : report::Json(numbering)}}));
    } else {
        print("What a new visit is filled in with on this machine (" + file->string() + "):\n  worker      " +
              shown(defaults.worker) + "\n  supervisor  " + shown(defaults.supervisor) + "\n  numbering   " +
              shown(numbering) + "\n");
    }
}

} // namespace

void add_visit_defaults(Command group) {
    auto options = std::make_shared<VisitDefaultsOptions>();
    Command command =
        add_visit_command(group, "defaults", "Show or set what this machine fills in when a visit is opened");
    command.option("--worker", options->worker, "Who usually works here").type_name("NAME");
    command.option("--supervisor", options->supervisor, "Who usually supervises").type_name("NAME");
    add_numbering_option(command, options->numbering);
    command.flag("--forget", options->forget, "Forget what was set before");
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
