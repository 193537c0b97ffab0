// retap visit erase
#include "chairside/left_takes.hpp"
#include "error.hpp"
#include "report/json.hpp"
#include "terminal.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct VisitEraseOptions {
    visit::VisitId id = 0;
    std::string by;
    std::string reason;
    bool yes = false;
    bool json = false;
};

report::Json stone_json(const visit::Tombstone& stone) {
    return {{"visit", stone.id},    {"uid", stone.uid},       {"at", stone.stamp.at},
            {"by", stone.stamp.by}, {"reason", stone.reason}, {"digest", stone.digest}};
}

void run(const VisitEraseOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    if (!options.yes) {
        throw UsageError(
            "This overwrites visit " + std::to_string(options.id) + " ('" + visit.opened.content.label +
            "') with everything in it, for good. Check how long your rules say records must be kept; then add "
            "--yes.");
    }
    // First, so that a kill in between leaves a visit that can still be erased and no sound without one.
    if (!store.on_server()) {
        chairside::remove_takes_of(chairside::take_folder(store.file()), options.id);
    }
    const visit::Tombstone stone = open->erase(options.id, stamp_now(options.by), options.reason);
    if (options.json) {
        print(report::json_text({{"format", "retap.erased/1"}, {"erased", report::Json::array({stone_json(stone)})}}));
    } else {
        print("Visit " + std::to_string(options.id) +
              " is erased. That there was one, when it was erased, by whom and why "
              "stays noted.\nBackups and exports still hold it; see to them as well.\n");
    }
}

struct DiscardOptions {
    visit::VisitId id = 0;
    std::string by;
    bool json = false;
};

void discard(const DiscardOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const visit::Tombstone stone = open->discard(options.id, stamp_now(options.by, visit));
    if (options.json) {
        print(report::json_text({{"format", "retap.erased/1"}, {"erased", report::Json::array({stone_json(stone)})}}));
    } else {
        print("Visit " + std::to_string(options.id) +
              " held nothing and is discarded. That it was opened stays noted.\n");
    }
}

} // namespace

void add_visit_discard(Command group, const StoreOption& store) {
    auto options = std::make_shared<DiscardOptions>();
    Command command =
        add_visit_command(group, "discard", "Take away a visit that was opened by mistake and holds nothing");
    add_visit_argument(command, options->id);
    add_by_option(command, options->by);
    command.json_flag(options->json);
    command.when_run([options, store] { discard(*options, store); });
}

void add_visit_erase(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitEraseOptions>();
    Command command =
        add_visit_command(group, "erase", "Overwrite a visit for privacy, leaving only that it was erased");
    add_visit_argument(command, options->id);
    command.option("--by", options->by, "Who erases").required().type_name("NAME");
    command.option("--reason", options->reason, "Why; without anything about the patient").required().type_name("TEXT");
    command.flag("--yes", options->yes, "Do it; there is no way back");
    command.json_flag(options->json);
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
