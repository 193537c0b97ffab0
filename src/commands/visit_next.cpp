// retap visit next, retap visit rules
#include "chart/mnemonics.hpp"
#include "chart/next_rules.hpp"
#include "report/visit_json.hpp"
#include "terminal.hpp"
#include "visit/take_sounds.hpp"
#include "visit_commands.hpp"
#include "visit_text.hpp"

#include <set>

namespace retap::commands {
namespace {

struct VisitNextOptions {
    visit::VisitId id = 0;
    std::string look;
    bool json = false;
};

void say_next(const VisitNextOptions& options, const StoreOption& store) {
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const visit::Look* look = options.look.empty() ? visit.latest() : &look_of(visit, options.look);
    const report::NextThings next =
        report::next_of(visit, look, look == nullptr ? std::nullopt : sound_now(*open, visit, look));
    if (options.json) {
        print(report::json_text({{"format", "retap.next/1"},
                                 {"visit", visit.id},
                                 {"look", next.look},
                                 {"next", report::advice_json(next.advice)},
                                 {"first_step", report::first_step_json(next)},
                                 {"questions", report::questions_json(next, visit.numbering())},
                                 {"contradictions", report::contradictions_json(next, visit.numbering())}}));
    } else {
        print(advice_text(next.advice));
    }
}

/// Each thing once, under the first step that has it.
std::string steps_text() {
    std::string out = "How the steps are done\n";
    std::set<std::string_view> told;
    for (const chart::Step step : chart::steps_with_how_to()) {
        for (const chart::HowTo& one : chart::how_to(step)) {
            if (told.insert(one.text).second) {
                out += "  " + std::string(one.text) + "\n    " + std::string(one.why) + " [" + std::string(one.source) +
                       "]\n";
            }
        }
    }
    return out;
}

std::string rules_text() {
    std::string out = "The rules about what is usually next, most pressing first. All that apply are shown.\n";
    for (const chart::Rule& rule : chart::next_rules()) {
        out += "\n" + std::string(rule.id) + "\n";
        for (const auto& [name, content] :
             {std::pair{"When", rule.when}, std::pair{"Suggested", rule.suggestion}, std::pair{"Why", rule.why},
              std::pair{"Source", rule.source}, std::pair{"Defers to", rule.defers_to}}) {
            out += "  " + std::string(name) + ": " + std::string(content) + "\n";
        }
        out += "  Holds back: " + held_back(rule.blocks) + "\n";
    }
    out += "\nThe letter rules\n";
    for (const chart::Mnemonic& mnemonic : chart::mnemonics()) {
        out += "  " + std::string(mnemonic.letters) + " (" + std::string(chart::word(mnemonic.stage)) + "):";
        for (const auto& [letter, meaning] : mnemonic.meaning) {
            out += std::string(" ") + letter + " " + std::string(meaning) + ";";
        }
        out.back() = '.';
        out += "\n  " + std::string(mnemonic.says) + "\n  Disputed: " + std::string(mnemonic.disputed) +
               "\n  Source: " + std::string(mnemonic.source) + "\n";
    }
    out += "  " + std::string(chart::mnemonic_note()) + "\n\nWarning signs, for: retap visit warn\n";
    for (const chart::WarningSign& sign : chart::warning_signs) {
        out += "  " + std::string(sign.word) + ": " + std::string(sign.plain) + "\n";
    }
    return out + "\n" + steps_text() + "\n" + guidance_note();
}

} // namespace

void add_visit_next(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitNextOptions>();
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
