// retap visit report
#include "report/visit_report.hpp"
#include "aside_file.hpp"
#include "outputs.hpp"
#include "terminal.hpp"
#include "visit/sounds.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct Options {
    visit::VisitId id = 0;
    std::string out;
};

report::Sound playable(const visit::TakeContent& content) {
    return {.media_type = "audio/flac",
            .bytes = {reinterpret_cast<const char*>(content.flac.data()), content.flac.size()}};
}

std::vector<report::LookSound> sounds_of(visit::VisitStore& store, const visit::Visit& visit) {
    std::vector<report::LookSound> sounds;
    for (const visit::Look& look : visit.looks) {
        report::LookSound& sound = sounds.emplace_back();
        sound.look = look.name;
        if (!look.takes.empty()) {
            const int shown =
                shown_take(look, [&](const auto& take) { return visit::inspect_kept(store, visit.id, take); });
            sound.sound = playable(store.take(visit.id, shown));
        }
    }
    // The story ends with the latest look; earlier verdicts stand in the table as they were kept.
    for (auto look = visit.looks.rbegin(); look != visit.looks.rend(); ++look) {
        if (can_compare(visit, *look)) {
            sounds.at(static_cast<std::size_t>(std::distance(look, visit.looks.rend()) - 1)).comparison =
                compare_look(store, visit, *look);
            break;
        }
    }
    return sounds;
}

void run(const Options& options, const StoreOption& store) {
    refuse_to_overwrite(options.out, {store.file()});
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const visit::Opened& opened = visit.opened.content;
    const report::ReportHeading heading{.title = "Visit " + opened.label +
                                                 (opened.procedure.empty() ? "" : ": " + opened.procedure),
                                        .when = "Report of " + readable(stamp_now("").at),
                                        .program = "Retap " RETAP_VERSION};
    write_privately();
    write_file_whole(options.out, report::visit_report(visit, sounds_of(*open, visit), heading));
    print("Report: " + options.out + "\n");
}

} // namespace

void add_visit_report(CLI::App& group, const StoreOption& store) {
    auto options = std::make_shared<Options>();
    CLI::App& command =
        add_visit_command(group, "report", "Write a visit as one HTML file to look at, listen to and print");
    add_visit_argument(command, options->id);
    command.add_option("OUT", options->out, "The file to write, as in visit.html")->required();
    command.callback([options, store] { run(*options, store); });
}

} // namespace retap::commands
