// retap visit feel, retap visit decide
#include "terminal.hpp"
#include "visit/inherit.hpp"
#include "visit/open_decision.hpp"
#include "visit_commands.hpp"

namespace retap::commands {
namespace {

struct FeelOptions {
    visit::VisitId id = 0;
    std::string look;
    std::string numb;
    std::string says = "not asked";
    std::string words;
    std::string by;
    bool json = false;
};

void note_feel(const FeelOptions& options, const StoreOption& store) {
    visit::FeelNoted noted;
    if (!options.numb.empty()) {
        noted.numb = options.numb == "yes";
    }
    noted.feel = chart::feel_from(options.says).value_or(chart::Feel::not_asked);
    noted.words = options.words;
    const std::string numb = !noted.numb ? "numbness not noted" : *noted.numb ? "numb" : "not numb";
    write_entry(store, options.id, {{}, look_named(options.look), std::nullopt, noted}, options.by, options.json,
                options.look + ": " + numb + ", " +
                    (noted.feel == chart::Feel::not_asked ? std::string("not asked")
                                                          : "feels " + std::string(chart::word(noted.feel))) +
                    ".");
}

struct DecideOptions {
    visit::VisitId id = 0;
    std::string action;
    std::string look;
    std::string words;
    std::string by;
    bool json = false;
};

visit::Action action_named(const std::string& word) {
    return visit::action_from(word).value_or(visit::Action::other); // the command line lets no other word through
}

void note_decision(const DecideOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    std::optional<visit::LookName> look;
    if (!options.look.empty()) {
        look = look_of(visit, options.look).name;
    } else if (visit.latest() != nullptr || (visit.baseline() != nullptr && !baseline_is_inherited(visit))) {
        look = visit.looks.back().name;
    }
    const visit::Decided decided{action_named(options.action), options.words};
    const int entry = open->add(options.id, {stamp_now(options.by, visit), look, std::nullopt, decided});
    if (look && !is_last(visit, *look)) {
        warn("Look '" + text(*look) + "' is not the last; '" + text(visit.looks.back().name) +
             "' came after it. What is next follows from the last one. If that was meant: retap visit correct " +
             std::to_string(options.id) + " " + std::to_string(entry) + " --withdraw --reason \"wrong look\"");
    }
    print_written(options.json, options.id, entry,
                  "decided" + (look ? " at look '" + text(*look) + "'" : "") + ": " + options.action + ".");
}

} // namespace

void add_visit_notes(Command group, const StoreOption& store) {
    auto feel = std::make_shared<FeelOptions>();
    Command ask = add_visit_command(group, "feel", "Note whether the patient is numb, and what they say");
    add_visit_argument(ask, feel->id);
    add_look_argument(ask, feel->look).required();
    ask.option("--numb", feel->numb, "Whether the patient is numb").one_of({"yes", "no"});
    ask.option("--says", feel->says, "How the bite feels to the patient").one_of({"comfortable", "high", "other"});
    ask.option("--words", feel->words, "The patient's words").type_name("TEXT");
    add_by_option(ask, feel->by);
    ask.json_flag(feel->json);
    ask.when_run([feel, store] { note_feel(*feel, store); });

    auto decide = std::make_shared<DecideOptions>();
    Command command = add_visit_command(group, "decide", "Note what was decided or done");
    add_visit_argument(command, decide->id);
    command.option("ACTION", decide->action, "adjust, leave, wait, finish or other")
        .required()
        .one_of({"adjust", "leave", "wait", "finish", "other"});
    command.option("--look", decide->look, "The look that it was decided at; the last one when left out")
        .type_name("LOOK");
    command.option("--words", decide->words, "What exactly, and why").type_name("TEXT");
    add_by_option(command, decide->by);
    command.json_flag(decide->json);
    command.when_run([decide, store] { note_decision(*decide, store); });
}

} // namespace retap::commands
