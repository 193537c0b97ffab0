// retap visit next, retap visit rules
#include "chart/mnemonics.hpp"
#include "chart/next_rules.hpp"
#include "report/visit_json.hpp"
#include "terminal.hpp"
#include "visit/take_sounds.hpp"
#include "visit_commands.hpp"
#include "visit_text.hpp"

namespace retap::commands {
namespace {

struct Options {
    visit::VisitId id = 0;
    std::string look;
    bool json = false;
};

void say_next(const Options& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const visit::Look* look = options.look.empty() ? visit.latest() : &look_of(visit, options.look);
    if (look != nullptr && look->name.kind == visit::LookKind::before) {
        look = nullptr;
    }
    const auto advice = chart::next_steps(chart::Assessment(situation_of(visit, look, sound_now(*open, visit, look))),
                                          visit.numbering());
    if (options.json) {
        print(report::json_text({{"format", "retap.next/1"},
                                 {"visit", visit.id},
                                 {"look", look == nullptr ? "before" : text(look->name)},
                                 {"next", report::advice_json(advice)}}));
    } else {
        print(advice_text(advice));
    }
}

std::string rules_text() {
    std::string out = "The rules about what is usually next, most pressing first. All that apply are shown.\n";
    for (const chart::Rule& rule : chart::next_rules()) {
        out += "\n" + std::string(rule.id) + "\n";
        for (const auto& [name, content] : {std::pair{"When", rule.when}, std::pair{"Suggested", rule.suggestion},
                                            std::pair{"Why", rule.why}, std::pair{"Defers to", rule.defers_to}}) {
            out += "  " + std::string(name) + ": " + std::string(content) + "\n";
        }
    }
    out += "\nThe mnemonic rules\n";
    for (const chart::Mnemonic& mnemonic : chart::mnemonics()) {
        out += "  " + std::string(mnemonic.letters) + " (" + std::string(chart::word(mnemonic.stage)) + "):";
        for (const auto& [letter, meaning] : mnemonic.meaning) {
            out += std::string(" ") + letter + " " + std::string(meaning) + ";";
        }
        out.back() = '.';
        out += "\n  " + std::string(mnemonic.says) + "\n";
    }
    return out + "  " + std::string(chart::mnemonic_note()) + "\n\n" + guidance_note();
}

} // namespace

void add_visit_next(Command group, const StoreOption& store) {
    auto options = std::make_shared<Options>();
    Command command = add_visit_command(group, "next", "Say what is usually next, and why");
    add_visit_argument(command, options->id);
    add_look_argument(command, options->look);
    command.json_flag(options->json);
    command.when_run([options, store] { say_next(*options, store); });

    auto json = std::make_shared<bool>(false);
    Command rules = add_visit_command(group, "rules", "Print the table of rules that 'next' reads");
    rules.json_flag(*json);
    rules.when_run([json] { print(*json ? report::json_text(report::rules_json()) : rules_text()); });
}

} // namespace retap::commands
