#include "visit_text.hpp"

#include "chart/notation.hpp"
#include "columns.hpp"
#include "report/visit_report.hpp"
#include "report/wording.hpp"
#include "visit/inherit.hpp"
#include "visit/take_sounds.hpp"
#include "visit_commands.hpp"

#include <algorithm>

namespace retap::commands {
namespace {

/// " (13 May by A. Student, at an earlier visit)" behind what was taken over.
template <class Content>
std::string origin(const visit::Said<Content>& said) {
    return said.inherited ? " (" + report::readable_time(said.inherited->stamp.at) + ", " + said.inherited->stamp.by +
                                ", at an earlier visit)"
                          : "";
}

std::string line(const std::string& name, const std::string& content, int entry) {
    constexpr std::size_t width = 9;
    std::string out = "  " + name;
    out.append(name.size() < width ? width - name.size() : 1, ' ');
    return out + content + (entry > 0 ? "  [" + std::to_string(entry) + "]" : "") + "\n";
}

std::string feel_text(const visit::FeelNoted& noted) {
    std::string out = !noted.numb ? "numbness not noted" : *noted.numb ? "numb" : "not numb";
    out += noted.feel == chart::Feel::not_asked ? ", not asked" : ", feels " + std::string(chart::word(noted.feel));
    return noted.words.empty() ? out : out + ": \"" + noted.words + "\"";
}

std::string sound_text(const visit::Compared& compared) {
    if (!tells(compared.likeness)) {
        return std::string(compare::word(compared.verdict)) + ": " + compared.sentence;
    }
    return std::string(compare::word(compared.verdict)) + ", likeness " + report::number(compared.likeness.score, 0) +
           " (" + report::number(compared.likeness.low, 0) + " to " + report::number(compared.likeness.high, 0) +
           "): " + compared.sentence;
}

std::string decision_text(const visit::Decided& decided) {
    return std::string(word(decided.action)) + (decided.words.empty() ? "" : ": " + decided.words);
}

/// How the step that comes first is done, where there is something to say about it.
std::string how_to_text(const chart::Advice* first) {
    if (first == nullptr || chart::how_to(first->step).empty()) {
        return "";
    }
    std::string out =
        "How the first of these that is something to do is done (rule " + std::string(first->rule->id) + ")\n";
    for (const chart::HowTo& one : chart::how_to(first->step)) {
        out +=
            "  - " + std::string(one.text) + "\n      " + std::string(one.why) + " [" + std::string(one.source) + "]\n";
    }
    return "\n" + out;
}

std::string look_text(const visit::Visit& visit, const visit::Look& look) {
    std::string out = "\n" + text(look.name) + "\n";
    if (look.holds) {
        out += line("holds", chart::write_holds(look.holds->content.holds, visit.numbering()) + origin(*look.holds),
                    look.holds->entry);
        out += line("", sentence(chart::spread_of(look.holds->content.holds)), 0);
    }
    if (look.marks) {
        out += line("marks", chart::write_marks(look.marks->content.marks, visit.numbering()) + origin(*look.marks),
                    look.marks->entry);
    }
    for (const auto& take : look.takes) {
        out += line("take", take.content.name + origin(take), take.entry);
    }
    if (look.comparison) {
        out += line("sound", sound_text(look.comparison->content), look.comparison->entry);
    }
    if (look.feel) {
        out += line("feel", feel_text(look.feel->content), look.feel->entry);
    }
    if (look.name.kind != visit::LookKind::before && visit.baseline() != nullptr) {
        const auto changes = chart::what_changed(visit.baseline()->charts(), look.charts(),
                                                 visit.opened.content.treated, visit.crossing());
        for (const std::string& said : chart::sentences(changes, visit.numbering())) {
            out += line("changed", said, 0);
        }
    }
    for (const auto& decision : look.decisions) {
        out += line("decided", decision_text(decision.content), decision.entry);
    }
    return out;
}

std::string heading(const visit::Visit& visit) {
    const visit::Opened& opened = visit.opened.content;
    std::string out = "Visit " + std::to_string(visit.id) + ": " + opened.label + ", " +
                      (opened.procedure.empty() ? "" : opened.procedure + ", ") + "tooth " +
                      list(opened.treated, opened.numbering) + " (" + std::string(chart::word(opened.numbering)) +
                      ")\n";
    out += "Opened " + report::readable_time(visit.opened.stamp.at) + "; works: " + opened.worker;
    out += opened.supervisor.empty() ? "\n" : "; supervises: " + opened.supervisor + "\n";
    for (const std::string& sentence : visit::sentences(visit.chain)) {
        out += sentence + "\n";
    }
    if (const std::string open = report::still_open(visit); !open.empty()) {
        out += "Still open: " + open + "\n";
    }
    if (visit.signature) {
        out += "Signed " + report::readable_time(visit.signature->stamp.at) + " by " + visit.signature->stamp.by +
               ", " + visit.signature->content.role + "; closed\n";
        if (!visit.signature->content.comment.empty()) {
            out += "  \"" + visit.signature->content.comment + "\"\n";
        }
        out += "Digest " + visit.digest() + "\n";
    }
    return out;
}

std::string open_text(const visit::VisitSummary& visit) {
    if (!visit.open) {
        return "";
    }
    if (visit.followed) {
        return "continued";
    }
    return std::string(visit.open->action == visit::Action::wait ? "recheck, since " : "adjust, since ") +
           report::readable_time(visit.open->since.at) +
           (!visit.open->numb   ? ""
            : *visit.open->numb ? ", numb"
                                : ", not numb") +
           ", " + visit.open->since.by;
}

} // namespace

std::string said_text(const visit::Said<visit::Decided>& decision) {
    return decision_text(decision.content) + origin(decision);
}

std::string held_back(chart::Blocks blocks) {
    switch (blocks) {
    case chart::Blocks::work:
        return "the work";
    case chart::Blocks::judgement:
        return "any judgement of the restoration";
    case chart::Blocks::done:
        return "done";
    case chart::Blocks::nothing:
        break;
    }
    return "nothing";
}

std::string guidance_note() {
    return "This is guidance. Your supervising clinician and your local rules come first; a change to teeth cannot be\n"
           "undone. Numb patients are weak judges of high.\n";
}

std::string advice_text(const std::vector<chart::Advice>& advice) {
    std::string out = "What is usually next\n";
    if (advice.empty()) {
        return out + "  No rule fits; ask your supervising clinician.\n\n" + guidance_note();
    }
    int number = 0;
    for (const chart::Advice& step : advice) {
        out += "  " + std::to_string(++number) + ". " + std::string(step.rule->suggestion) + "\n";
        out += "     When: " + std::string(step.rule->when) + "\n";
        for (const std::string& evidence : step.evidence) {
            out += "     Here: " + evidence + "\n";
        }
        out += "     Why: " + std::string(step.rule->why) + "\n";
        out += "     Defers to " + std::string(step.rule->defers_to) + ". (rule " + std::string(step.rule->id) +
               (step.rule->blocks == chart::Blocks::nothing ? "" : ", holds back " + held_back(step.rule->blocks)) +
               ")\n";
    }
    return out + how_to_text(chart::first_step(advice)) + "\n" + guidance_note();
}

std::string visit_text(const visit::Visit& visit, std::optional<chart::SoundSays> latest_sound) {
    std::string out = heading(visit);
    for (const visit::Look& look : visit.looks) {
        out += look_text(visit, look);
    }
    for (const auto& decision : visit.decisions) {
        out += "\nDecided: " + said_text(decision) + "  [" + std::to_string(decision.entry) + "]\n";
    }
    if (visit.crossbite) {
        const auto teeth = visit.crossing().teeth;
        out += "\nCrossbite: " + (teeth->empty() ? std::string("none") : list(*teeth, visit.numbering())) + "  [" +
               std::to_string(visit.crossbite->entry) + "]\n";
    }
    for (const auto& noted : visit.warnings) {
        const chart::Warning& warning = noted.content.warning;
        out += "\nWarning sign: " + chart::plain_warning(warning.about) +
               (warning.raised_with.empty() ? "; raised with nobody" : "; raised with " + warning.raised_with) +
               (warning.decided.empty() ? "; nothing decided" : "; decided: " + warning.decided) + "  [" +
               std::to_string(noted.entry) + "]\n";
    }
    const auto advice =
        chart::next_steps(chart::Assessment(situation_of(visit, visit.latest(), latest_sound)), visit.numbering());
    return out + "\n" + advice_text(advice) + "\nNumbers in brackets are entries, for: retap visit correct\n";
}

std::string entries_text(const visit::Visit& visit) {
    using enum Columns::Align;
    Columns columns({right, left, left, left, left, left});
    for (const visit::Entry& entry : visit.entries) {
        std::string note;
        if (entry.correction) {
            note = "corrects " + std::to_string(entry.correction->of) + ": " + entry.correction->reason;
        }
        if (entry.inherited) {
            note = "taken over; first written " + report::readable_time(entry.inherited->stamp.at) + " by " +
                   entry.inherited->stamp.by;
        }
        if (std::binary_search(visit.superseded.begin(), visit.superseded.end(), entry.number)) {
            note += std::string(note.empty() ? "" : "; ") + "corrected later";
        }
        columns.add({std::to_string(entry.number), report::readable_time(entry.stamp.at), entry.stamp.by,
                     std::string(kind_of(entry.body)), entry.look ? text(*entry.look) : "", note});
    }
    return "\nEntries\n" + columns.text("  ");
}

std::string list_text(const std::vector<visit::VisitSummary>& visits) {
    if (visits.empty()) {
        return "No visits.\n";
    }
    using enum Columns::Align;
    Columns columns({right, left, left, left, left, left, left, left, left});
    columns.add({"visit", "opened", "label", "tooth", "state", "look", "sound", "still open", "procedure"});
    for (const visit::VisitSummary& visit : visits) {
        columns.add({std::to_string(visit.id), report::readable_time(visit.opened_at), visit.label,
                     list(visit.treated, visit.numbering), visit.closed ? "signed" : "open", visit.latest_look,
                     visit.latest_sound ? std::string(compare::word(*visit.latest_sound)) : "", open_text(visit),
                     visit.procedure});
    }
    return columns.text();
}

std::optional<chart::SoundSays> sound_now(visit::VisitStore& store, const visit::Visit& visit,
                                          const visit::Look* look) {
    if (look == nullptr || look->comparison || !can_compare(visit, *look)) {
        return std::nullopt;
    }
    return chart::sound_says(compare_look(store, visit, *look));
}

} // namespace retap::commands
