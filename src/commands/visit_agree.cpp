// retap visit agree: two people chart the same mouth.
#include "chart/agreement.hpp"
#include "chart/notation.hpp"
#include "columns.hpp"
#include "error.hpp"
#include "report/visit_json.hpp"
#include "report/wording.hpp"
#include "terminal.hpp"
#include "visit_commands.hpp"

#include <charconv>

namespace retap::commands {
namespace {

struct VisitAgreeOptions {
    std::string what;
    std::string first;
    std::string second;
    std::string numbering;
    bool json = false;
};

struct Part {
    std::string name;
    std::string counted;
    chart::Agreement agreement;
};

/// "12:before" names the chart of a look; anything else is a chart itself.
std::optional<std::pair<visit::VisitId, visit::LookName>> reference_from(const std::string& text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string::npos) {
        return std::nullopt;
    }
    visit::VisitId id = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + colon, id);
    const auto look = visit::look_from(std::string_view(text).substr(colon + 1));
    if (error != std::errc() || end != text.data() + colon || !look) {
        return std::nullopt;
    }
    return std::pair{id, *look};
}

chart::LookCharts charts_from(const VisitAgreeOptions& options, const std::string& text, const StoreOption& store) {
    if (const auto reference = reference_from(text)) {
        const visit::Visit visit = store.open()->load(reference->first);
        return look_of(visit, visit::text(reference->second)).charts();
    }
    const chart::Numbering numbering = numbering_named(options.numbering);
    chart::LookCharts charts;
    if (options.what == "holds") {
        charts.holds = chart::read_holds(text, numbering);
    } else {
        charts.marks = chart::read_marks(text, numbering);
    }
    return charts;
}

[[noreturn]] void not_charted(const VisitAgreeOptions& options, const std::string& text) {
    throw InputError("The " + options.what + " are not charted in '" + text + "'.");
}

std::vector<Part> agree(const VisitAgreeOptions& options, const StoreOption& store) {
    const chart::LookCharts first = charts_from(options, options.first, store);
    const chart::LookCharts second = charts_from(options, options.second, store);
    if (options.what == "holds") {
        if (!first.holds || !second.holds) {
            not_charted(options, !first.holds ? options.first : options.second);
        }
        return {{"holds", "tooth pairs that both tested", chart::agreement_on_holds(*first.holds, *second.holds)}};
    }
    if (!first.marks || !second.marks) {
        not_charted(options, !first.marks ? options.first : options.second);
    }
    const auto teeth = chart::teeth_for_agreement(*first.marks, *second.marks);
    return {{"centric contact", "teeth, those that neither marked included; third molars only when marked",
             chart::agreement_on_stops(*first.marks, *second.marks, teeth)},
            {"weight", "teeth that both marked in centric, by their heaviest mark",
             chart::agreement_on_weights(*first.marks, *second.marks)}};
}

std::string part_text(const Part& part) {
    const auto& agreement = part.agreement;
    std::string out = part.name + ": " + report::number(agreement.cases, 0) + " " + part.counted + "\n";
    if (!agreement.observed) {
        return out + "  nothing to compare\n";
    }
    out += "  same: " + report::number(100.0 * *agreement.observed, 1) + " %\n  Cohen's kappa: " +
           (agreement.kappa ? report::number(*agreement.kappa, 2) : "not defined, since both used one category only") +
           "\n";
    Columns columns({Columns::Align::left, Columns::Align::right, Columns::Align::right, Columns::Align::right});
    std::vector<std::string> heading{"first \\ second"};
    heading.insert(heading.end(), agreement.table.categories.begin(), agreement.table.categories.end());
    columns.add(heading);
    for (std::size_t row = 0; row < agreement.table.counts.size(); ++row) {
        std::vector<std::string> cells{agreement.table.categories[row]};
        for (const double count : agreement.table.counts[row]) {
            cells.push_back(report::number(count, 0));
        }
        columns.add(cells);
    }
    return out + columns.text("  ");
}

void run(const VisitAgreeOptions& options, const StoreOption& store) {
    const auto parts = agree(options, store);
    report::Json list = report::Json::array();
    std::string out;
    for (const Part& part : parts) {
        report::Json json{{"name", part.name}, {"counted", part.counted}};
        json.update(report::agreement_json(part.agreement));
        list.push_back(std::move(json));
        out += part_text(part);
    }
    print(options.json ? report::json_text({{"format", "retap.agreement/1"}, {"agreement", std::move(list)}}) : out);
}

} // namespace

void add_visit_agree(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitAgreeOptions>();
    Command command = add_visit_command(
        group, "agree", "Say how far two people agree who charted one mouth: percent and Cohen's kappa");
    command.option("WHAT", options->what, "holds or marks").required().one_of({"holds", "marks"});
    command.option("FIRST", options->first, "A chart, or VISIT:LOOK for one that was kept, as in 3:before").required();
    command.option("SECOND", options->second, "The other person's, in the same way").required();
    add_numbering_option(command, options->numbering);
    command.json_flag(options->json);
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
