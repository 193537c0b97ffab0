// retap visit attach, retap visit compare
#include "comparison_text.hpp"
#include "error.hpp"
#include "report/json.hpp"
#include "take_text.hpp"
#include "terminal.hpp"
#include "visit/take_sounds.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct AttachOptions {
    visit::VisitId id = 0;
    std::string look;
    std::string file;
    audio::ChannelChoice channels;
    std::string by;
    bool json = false;
};

void attach(const AttachOptions& options, const StoreOption& store) {
    const visit::LookName look = look_named(options.look);
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    // Before any work: a closed visit or a look out of order should not cost an analysis.
    const visit::Stamp stamp = stamp_now(options.by, visit);
    visit::TakeKept take;
    take.name = std::filesystem::path(options.file).filename().string();
    take.program = "Retap " RETAP_VERSION;
    check_entry(visit, {stamp, look, std::nullopt, take});
    const visit::PreparedTake prepared = visit::prepare_take(options.file, options.channels);
    const visit::TakeContent content{prepared.flac,
                                     json_text(report::take_json(prepared.analysis), report::JsonLayout::one_line),
                                     json_text(report::settings_json(prepared.analysis), report::JsonLayout::one_line)};
    const int entry = open->add_take(options.id, look, stamp, take, content);
    if (const auto where = visit::kept_already(visit, prepared.flac)) {
        warn(*where + " If that is a mistake: retap visit correct " + std::to_string(options.id) + " " +
             std::to_string(entry) + " --withdraw --reason \"wrong file\"");
    }
    if (!prepared.analysis.fitness.usable) {
        warn("This take is kept, but it is not fit to be compared. " +
             with_plain_signs(fitness_text(prepared.analysis)));
    }
    print_written(options.json, options.id, entry,
                  options.look + ": kept '" + take.name + "', " + recording_text(prepared.analysis) + ".");
}

struct CompareOptions {
    visit::VisitId id = 0;
    std::string look;
    std::string by;
    bool json = false;
};

void compare_sounds(const CompareOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const visit::Look& look = look_of(visit, options.look);
    const compare::Comparison comparison = compare_look(*open, visit, look);
    std::string kept = "The visit is closed; this comparison is not added to it.\n";
    if (!visit.closed()) {
        const int entry = open->add(options.id, {stamp_now(options.by, visit), look.name, std::nullopt,
                                                 to_keep(comparison, visit, look, "Retap " RETAP_VERSION)});
        kept = "Kept as entry " + std::to_string(entry) + " of visit " + std::to_string(options.id) + ".\n";
    }
    if (options.json) {
        print(report::json_text(report::comparison_json(comparison)));
    } else {
        print_text("Look '" + text(look.name) + "' against the baseline of visit " + std::to_string(visit.id) + "\n" +
                   comparison_text(comparison) + "\n" + kept);
    }
}

} // namespace

void add_visit_takes(Command group, const StoreOption& store) {
    auto options = std::make_shared<AttachOptions>();
    Command command =
        add_visit_command(group, "attach", "Keep a take with a look: as FLAC, cut to half a second around the taps");
    add_visit_argument(command, options->id);
    add_look_argument(command, options->look).required();
    command.option("TAKE", options->file, "A sound file").required();
    command.channels_option(options->channels);
    add_by_option(command, options->by);
    command.json_flag(options->json);
    command.when_run([options, store] { attach(*options, store); });

    auto comparing = std::make_shared<CompareOptions>();
    Command compare =
        add_visit_command(group, "compare", "Compare the sound of a look with the baseline, and keep the result");
    add_visit_argument(compare, comparing->id);
    add_look_argument(compare, comparing->look);
    add_by_option(compare, comparing->by);
    compare.json_flag(comparing->json);
    compare.when_run([comparing, store] { compare_sounds(*comparing, store); });
}

} // namespace retap::commands
