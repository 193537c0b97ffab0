// retap visit show, retap visit list
#include "chart/notation.hpp"
#include "error.hpp"
#include "report/visit_json.hpp"
#include "report/visit_report.hpp"
#include "terminal.hpp"
#include "visit/clock.hpp"
#include "visit/text_check.hpp"
#include "visit_commands.hpp"
#include "visit_text.hpp"

#include <chrono>

namespace retap::commands {
namespace {

struct ShowOptions {
    visit::VisitId id = 0;
    bool entries = false;
    bool json = false;
};

void show(const ShowOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const auto sound = sound_now(*open, visit, visit.latest());
    if (options.json) {
        print(report::json_text(report::visit_json(visit, sound)));
    } else {
        print(visit_text(visit, sound) + (options.entries ? entries_text(visit) : ""));
    }
}

struct ListOptions {
    visit::VisitFilter filter;
    std::string tooth;
    std::string numbering;
    std::string state;
    std::string sound;
    std::optional<std::string> label_given;
    std::string since;
    std::string until;
    bool due = false;
    bool waiting = false;
    bool not_signed = false;
    bool erased = false;
    bool json = false;
};

visit::Span span_named(const std::string& text, visit::Moment now) {
    const auto span = visit::local_span(text, now);
    if (!span) {
        throw UsageError("'" + text +
                         "' is no day. Give a year, month or day, as in 2031, 2031-05 or 2031-05-14, or today "
                         "or yesterday.");
    }
    return *span;
}

visit::VisitFilter filter_of(const ListOptions& options) {
    visit::VisitFilter filter = options.filter;
    filter.label = options.label_given.value_or("");
    if (!options.tooth.empty()) {
        const auto teeth = chart::read_teeth(options.tooth, numbering_named(options.numbering));
        if (teeth.size() != 1) {
            throw UsageError("--tooth takes one tooth.");
        }
        filter.tooth = teeth.front();
    }
    if (!options.state.empty()) {
        filter.closed = options.state == "signed";
    }
    if (options.not_signed) {
        filter.closed = false;
    }
    const auto now = std::chrono::system_clock::now();
    if (!options.since.empty()) {
        filter.since = visit::utc_text(span_named(options.since, now).begin);
    }
    if (!options.until.empty()) {
        filter.until = visit::utc_text(span_named(options.until, now).end - std::chrono::seconds(1));
    }
    filter.waiting = options.waiting || options.due;
    if (options.due) {
        filter.waiting_until = visit::utc_text(visit::start_of_day(now) - std::chrono::seconds(1));
    }
    for (const auto verdict : {compare::Verdict::alike, compare::Verdict::different, compare::Verdict::unclear}) {
        if (options.sound == compare::word(verdict)) {
            filter.latest_sound = verdict;
        }
    }
    return filter;
}

void list_erased(const std::vector<visit::Tombstone>& erased, bool json) {
    report::Json list = report::Json::array();
    std::string out;
    for (const visit::Tombstone& stone : erased) {
        list.push_back({{"visit", stone.id},
                        {"uid", stone.uid},
                        {"at", stone.stamp.at},
                        {"by", stone.stamp.by},
                        {"reason", stone.reason},
                        {"digest", stone.digest}});
        out += "Visit " + std::to_string(stone.id) + " was erased " + report::readable_time(stone.stamp.at) + " by " +
               stone.stamp.by + ": " + stone.reason + "\n";
    }
    print(json          ? report::json_text({{"format", "retap.erased/1"}, {"erased", std::move(list)}})
          : out.empty() ? "No visit was erased.\n"
                        : out);
}

void list_visits(const ListOptions& options, const StoreOption& store) {
    if (options.label_given && visit::is_blank(*options.label_given)) {
        throw UsageError("--label is blank. Give a part of the label to look for.");
    }
    const visit::VisitFilter filter = filter_of(options);
    if (!store.exists() && !options.json) {
        print("No visits: there is no store '" + store.file().string() + "' yet.\n");
        return;
    }
    const auto open = store.exists() ? store.open() : nullptr;
    if (options.erased) {
        list_erased(open ? open->erased() : std::vector<visit::Tombstone>(), options.json);
        return;
    }
    const auto visits = open ? open->list(filter) : std::vector<visit::VisitSummary>();
    print(options.json ? report::json_text(report::visits_json(visits)) : list_text(visits));
}

} // namespace

void add_visit_show(Command group, const StoreOption& store) {
    auto options = std::make_shared<ShowOptions>();
    Command command = add_visit_command(group, "show", "Show a visit: its looks, what changed, what is usually next");
    add_visit_argument(command, options->id);
    command.flag("--entries", options->entries, "Also list every entry, corrected ones too");
    command.json_flag(options->json);
    command.when_run([options, store] { show(*options, store); });
}

void add_visit_list(Command group, const StoreOption& store) {
    auto options = std::make_shared<ListOptions>();
    Command command = add_visit_command(group, "list", "List visits, newest first");
    command.option("--text", options->filter.text, "Only with this in label, procedure, worker or supervisor");
    command.option("--tooth", options->tooth, "Only where this tooth is treated; with --numbering");
    add_numbering_option(command, options->numbering);
    command.option("--state", options->state, "Only open or only signed ones").one_of({"open", "signed"});
    command.option("--sound", options->sound, "Only with this verdict at the latest look")
        .one_of({"alike", "different", "unclear"});
    command.option("--label", options->label_given, "Only with this in the label");
    command.flag("--waiting", options->waiting,
                 "Only those to be rechecked: it was decided to wait, and none continues them");
    command.flag("--due", options->due, "Of those, the ones that wait since an earlier day");
    command.flag("--unsigned", options->not_signed, "Only those that nobody has signed");
    command.option("--since", options->since,
                   "Opened then or later, by this machine's clock: 2031, 2031-05, 2031-05-14, today, yesterday");
    command.option("--until", options->until, "Opened then or earlier, the day, month or year included");
    command.option("--limit", options->filter.limit, "At most so many").counting_number();
    command.flag("--erased", options->erased, "List what was erased instead");
    command.json_flag(options->json);
    command.when_run([options, store] { list_visits(*options, store); });
}

} // namespace retap::commands
