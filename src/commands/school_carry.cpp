// retap school carry, fetch, kept
#include "error.hpp"
#include "outputs.hpp"
#include "report/json.hpp"
#include "school_commands.hpp"
#include "stop_signals.hpp"
#include "terminal.hpp"
#include "visit/carry.hpp"
#include "visit/open_store.hpp"

#include <chrono>
#include <thread>

namespace retap::commands {
namespace {

struct CarryOptions {
    std::string clinic;
    unsigned every_s = 0;
    visit::VisitId id = 0;
    bool json = false;
};

std::string notes_file(const StoreOption& store) {
    if (store.on_server()) {
        throw UsageError("--store is the store at the chair, in a file; the clinic's is said with --clinic.");
    }
    return store.file().string() + ".carried";
}

const std::string& clinic_of(const CarryOptions& options) {
    if (!visit::is_server(options.clinic)) {
        throw UsageError("Say where the store of the clinic is: --clinic postgresql://LOGIN@HOST/DATABASE");
    }
    return options.clinic;
}

std::unique_ptr<visit::CarryEnd> chair_of(const StoreOption& store) {
    (void)store.open(); // says what is wrong when there is none
    return visit::open_carry_end(store.file().string());
}

/// What was done is noted also when it is cut off in the middle.
visit::CarryReport carry_once(const CarryOptions& options, const StoreOption& store) {
    const std::string file = notes_file(store);
    const auto chair = chair_of(store);
    visit::CarryNotes notes = visit::read_carry_notes(file);
    const auto clinic = visit::open_carry_end(clinic_of(options));
    write_privately();
    try {
        visit::CarryReport report = visit::carry(*chair, *clinic, notes);
        visit::write_carry_notes(file, notes);
        return report;
    } catch (const Error&) {
        visit::write_carry_notes(file, notes);
        throw;
    }
}

void tell(const visit::CarryReport& report, bool json) {
    if (json) {
        print(report::json_text(
            {{"format", "retap.carried/1"}, {"up", report.up}, {"down", report.down}, {"told", report.told}}));
        return;
    }
    std::string text = std::to_string(report.up) + " entries were brought to the clinic, " +
                       std::to_string(report.down) + " from there.\n";
    for (const std::string& sentence : report.told) {
        text += sentence + "\n";
    }
    print(text);
}

void run_carry(const CarryOptions& options, const StoreOption& store) {
    if (options.every_s == 0) {
        tell(carry_once(options, store), options.json);
        return;
    }
    const StopSignals signals;
    while (!signals.asked()) {
        try {
            const visit::CarryReport report = carry_once(options, store);
            if (report.up + report.down > 0 || !report.told.empty()) {
                tell(report, options.json);
            }
        } catch (const StoreError& fault) {
            warn(std::string(fault.what()) + " What was not brought stays here and is tried again.");
        }
        const auto next = std::chrono::steady_clock::now() + std::chrono::seconds(options.every_s);
        while (!signals.asked() && std::chrono::steady_clock::now() < next) {
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
        }
    }
}

void run_kept(const CarryOptions& options, const StoreOption& store) {
    const visit::CarryNotes notes = visit::read_carry_notes(notes_file(store));
    const auto chair = chair_of(store);
    report::Json list = report::Json::array();
    std::string text;
    for (const visit::Head& head : chair->heads()) {
        const auto found = notes.find(head.uid);
        const visit::Kept kept = found == notes.end() ? visit::Kept{} : found->second;
        const std::string where = visit::where_kept(head, notes);
        list.push_back({{"visit", head.id},
                        {"uid", head.uid},
                        {"entries", head.entries},
                        {"in_clinic", kept.digest == head.digest ? head.entries : kept.entries},
                        {"apart", kept.apart.empty() ? report::Json() : report::Json(kept.apart)},
                        {"waiting", kept.waiting.empty() ? report::Json() : report::Json(kept.waiting)},
                        {"plain", where}});
        text += "Visit " + std::to_string(head.id) + ": " + where + ".\n" +
                (kept.waiting.empty() ? "" : "  " + kept.waiting + "\n");
    }
    print(options.json   ? report::json_text({{"format", "retap.kept/1"}, {"visits", std::move(list)}})
          : text.empty() ? "No visits.\n"
                         : text);
}

void add_clinic_option(Command command, CarryOptions& options) {
    command.option("--clinic", options.clinic, "The store of the clinic; --store is the one at the chair")
        .required()
        .type_name("ADDRESS");
}

} // namespace

void add_school_carry(Command group, const StoreOption& store) {
    auto carrying = std::make_shared<CarryOptions>();
    Command carry =
        add_visit_command(group, "carry", "Bring visits from the chair to the clinic, and what was added there");
    add_clinic_option(carry, *carrying);
    carry.option("--every", carrying->every_s, "Go on, and look again after so many seconds, until Ctrl+C")
        .within(1, 86400)
        .type_name("SECONDS");
    carry.json_flag(carrying->json);
    carry.when_run([carrying, store] { run_carry(*carrying, store); });

    auto fetching = std::make_shared<CarryOptions>();
    Command fetch = add_visit_command(group, "fetch", "Bring one visit of the clinic to the chair, as for a recall");
    fetch.option("VISIT", fetching->id, "Its number in the clinic's store").required().counting_number();
    add_clinic_option(fetch, *fetching);
    fetch.when_run([fetching, store] {
        (void)notes_file(store);
        const auto clinic = visit::open_carry_end(clinic_of(*fetching));
        const auto chair = visit::open_carry_end(store.file().string());
        const int entries = visit::fetch_visit(*chair, *clinic, fetching->id);
        print(std::to_string(entries) + " entries were brought here. To see them: retap visit list\n");
    });

    auto looking = std::make_shared<CarryOptions>();
    Command kept = add_visit_command(group, "kept", "Say of each visit at the chair whether the clinic has it");
    kept.json_flag(looking->json);
    kept.when_run([looking, store] { run_kept(*looking, store); });
}

} // namespace retap::commands
