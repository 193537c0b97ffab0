// retap cohort: what the visits of many people come to.
#include "visit/cohort.hpp"
#include "aside_file.hpp"
#include "cohort_text.hpp"
#include "outputs.hpp"
#include "report/json.hpp"
#include "school_commands.hpp"
#include "terminal.hpp"
#include "visit/clock.hpp"

#include <chrono>

namespace retap::commands {
namespace {

struct CohortCommandOptions {
    std::string since;
    std::string until;
    std::string csv;
    std::string report;
    bool names = false;
    bool json = false;
};

void run_cohort(const CohortCommandOptions& options, const StoreOption& store) {
    for (const std::string& out : {options.csv, options.report}) {
        if (!out.empty()) {
            refuse_to_overwrite(out, {store.file()});
        }
    }
    const auto open = store.open();
    visit::VisitFilter filter;
    filter.since = options.since;
    filter.until = options.until;
    const auto rows = visit::cohort(*open, filter, {options.names});
    write_privately();
    if (!options.csv.empty()) {
        write_file_whole(options.csv, cohort_csv(rows));
    }
    if (!options.report.empty()) {
        write_file_whole(options.report, cohort_html(rows, visit::utc_text(std::chrono::system_clock::now())));
    }
    print(options.json ? report::json_text(cohort_json(rows)) : cohort_table(rows));
}

} // namespace

void add_cohort(Command program) {
    Command command =
        program.subcommand("cohort", "What the visits of many people come to, person by person and term by term");
    const StoreOption store(command);
    auto options = std::make_shared<CohortCommandOptions>();
    command.option("--since", options->since, "Visits opened on or after, as in 2031-09 or 2031-09-01")
        .type_name("DATE");
    command.option("--until", options->until, "Visits opened on or before").type_name("DATE");
    command.option("--csv", options->csv, "Write a table").type_name("OUT.csv");
    command.option("--report", options->report, "Write a page to print, with plots").type_name("OUT.html");
    command.flag("--names", options->names, "Names instead of pseudonyms");
    command.json_flag(options->json);
    command.footer("The rows stand in the order of the labels, which says nothing about anybody. Counts below " +
                   std::to_string(visit::small_number) +
                   " are marked: a share of so few says next to nothing about a person. What a\nfigure counts stands "
                   "in the manual. A student's own login sees the student's own visits.");
    command.when_run([options, store] { run_cohort(*options, store); });
}

} // namespace retap::commands
