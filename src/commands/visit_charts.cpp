// retap visit holds, retap visit marks
#include "chart/notation.hpp"
#include "terminal.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct VisitChartsOptions {
    visit::VisitId id = 0;
    std::string look;
    std::string chart;
    std::string by;
    bool json = false;
};

void add(visit::VisitStore& store, const VisitChartsOptions& options, const visit::Visit& visit, visit::Body body,
         const std::string& said) {
    const int entry =
        store.add(options.id, {stamp_now(options.by, visit), look_named(options.look), std::nullopt, std::move(body)});
    print_written(options.json, options.id, entry, said);
}

void chart_holds(const VisitChartsOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    visit::HoldsCharted charted{chart::read_holds(options.chart, visit.numbering())};
    const std::string said = options.look + ": " + chart::write_holds(charted.holds, visit.numbering()) + "\n" +
                             sentence(chart::spread_of(charted.holds));
    add(*open, options, visit, std::move(charted), said);
}

void chart_marks(const VisitChartsOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    visit::MarksCharted charted{chart::read_marks(options.chart, visit.numbering())};
    const std::string said = options.look + ": " + chart::write_marks(charted.marks, visit.numbering());
    add(*open, options, visit, std::move(charted), said);
}

Command add_chart_command(Command group, const std::string& name, const std::string& says,
                          const std::shared_ptr<VisitChartsOptions>& options, const std::string& example) {
    Command command = add_visit_command(group, name, says);
    add_visit_argument(command, options->id);
    add_look_argument(command, options->look).required();
    command.option("CHART", options->chart, "As in \"" + example + "\"").required();
    add_by_option(command, options->by);
    command.json_flag(options->json);
    return command;
}

} // namespace

void add_visit_charts(Command group, const StoreOption& store) {
    auto holds = std::make_shared<VisitChartsOptions>();
    add_chart_command(group, "holds", "Chart what shim film did between tooth pairs", holds,
                      "hold 17..14 24 25/35; slide 26; open 27; untestable 15")
        .when_run([holds, store] { chart_holds(*holds, store); });
    auto marks = std::make_shared<VisitChartsOptions>();
    add_chart_command(group, "marks", "Chart what marking paper left", marks,
                      "centric 16 MP~ CF* 26 MP+; working none; non-working 47 DB/in; again")
        .when_run([marks, store] { chart_marks(*marks, store); });
}

} // namespace retap::commands
