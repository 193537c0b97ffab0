// retap visit report
#include "report/visit_report.hpp"
#include "aside_file.hpp"
#include "outputs.hpp"
#include "terminal.hpp"
#include "visit/take_sounds.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct VisitReportOptions {
    visit::VisitId id = 0;
    std::string out;
};

void run(const VisitReportOptions& options, const StoreOption& store) {
    refuse_to_overwrite(options.out, {store.file()});
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const auto fit = [&](const auto& take) { return visit::inspect_kept(*open, visit.id, take).fitness.usable; };
    const report::VisitTakes takes{
        .flac = [&](const visit::Look& look) { return open->take(visit.id, shown_take(look, fit)).flac; },
        .comparison = [&](const visit::Look& look) { return compare_look(*open, visit, look); }};
    const report::ReportHeading heading = report::visit_heading(visit, stamp_now("").at, "Retap " RETAP_VERSION);
    write_privately();
    write_file_whole(options.out, report::visit_report(visit, report::look_sounds(visit, takes), heading));
    print("Report: " + options.out + "\n");
}

} // namespace

void add_visit_report(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitReportOptions>();
    Command command =
        add_visit_command(group, "report", "Write a visit as one HTML file to look at, listen to and print");
    add_visit_argument(command, options->id);
    command.option("OUT", options->out, "The file to write, as in visit.html").required();
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
