// retap visit crossbite, retap visit warn
#include "chart/warning_signs.hpp"
#include "error.hpp"
#include "visit_commands.hpp"

#include <algorithm>

namespace retap::commands {
namespace {

struct CrossbiteOptions {
    visit::VisitId id = 0;
    std::string teeth;
    std::string by;
    bool json = false;
};

void say_crossbite(const CrossbiteOptions& options, const StoreOption& store) {
    const visit::Visit visit = store.open()->load(options.id);
    const chart::Crossbite crossbite = chart::read_crossbite(options.teeth, visit.numbering());
    write_entry(store, options.id, {{}, std::nullopt, std::nullopt, visit::CrossbiteSaid{crossbite}}, options.by,
                options.json,
                crossbite.teeth->empty() ? "no tooth is in crossbite."
                                         : "in crossbite: " + list(*crossbite.teeth, visit.numbering()) + ".");
}

struct WarnOptions {
    visit::VisitId id = 0;
    std::string about;
    std::string raised_with;
    std::string decided;
    std::string by;
    bool json = false;
};

void warn_of(const WarnOptions& options, const StoreOption& store) {
    const visit::Visit visit = store.open()->load(options.id);
    chart::Warning warning{options.about, options.raised_with, options.decided};
    const auto earlier =
        std::ranges::find(visit.warnings, warning.about, [](const auto& noted) { return noted.content.warning.about; });
    if (earlier != visit.warnings.end()) {
        // what was said already stays; each of the two is often known at another time
        const chart::Warning& said = earlier->content.warning;
        warning.raised_with = warning.raised_with.empty() ? said.raised_with : warning.raised_with;
        warning.decided = warning.decided.empty() ? said.decided : warning.decided;
    }
    if (warning.about.find_first_not_of(" \t\n") == std::string::npos) {
        throw UsageError(
            "Say what was seen: a word of the list in 'retap visit rules', such as few-holds, or your own.");
    }
    write_entry(
        store, options.id, {{}, std::nullopt, std::nullopt, visit::WarningNoted{warning}}, options.by, options.json,
        "warning sign: " + chart::plain_warning(warning.about) +
            (warning.raised_with.empty() ? "; not raised with anybody yet" : "; raised with " + warning.raised_with) +
            (warning.decided.empty() ? "; nothing decided yet." : "; decided: " + warning.decided + "."));
}

} // namespace

void add_visit_facts(Command group, const StoreOption& store) {
    auto crossbite = std::make_shared<CrossbiteOptions>();
    Command cross = add_visit_command(group, "crossbite", "Say which back teeth meet in crossbite, or that none does");
    add_visit_argument(cross, crossbite->id);
    cross.option("TEETH", crossbite->teeth, "none, right, left, both, or teeth as in \"16 17\"").required();
    add_by_option(cross, crossbite->by);
    cross.json_flag(crossbite->json);
    cross.when_run([crossbite, store] { say_crossbite(*crossbite, store); });

    auto warning = std::make_shared<WarnOptions>();
    Command warn =
        add_visit_command(group, "warn", "Note a warning sign, with whom it was raised, and what was decided about it");
    add_visit_argument(warn, warning->id);
    warn.option("SIGN", warning->about, "A word of the list in 'visit rules', such as few-holds, or your own words")
        .required();
    warn.option("--raised-with", warning->raised_with, "Who was told of it").type_name("TEXT");
    warn.option("--decided", warning->decided, "What was decided").type_name("TEXT");
    add_by_option(warn, warning->by);
    warn.json_flag(warning->json);
    warn.when_run([warning, store] { warn_of(*warning, store); });
}

} // namespace retap::commands
