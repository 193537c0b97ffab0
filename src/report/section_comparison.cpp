#include "report/figure.hpp"
#include "report/html_sections.hpp"
#include "report/markup.hpp"
#include "report/measures_table.hpp"
#include "report/plots.hpp"
#include "report/take_notes.hpp"
#include "report/tap_picture.hpp"

#include <algorithm>
#include <string_view>

namespace retap::report {

namespace {

void player(Markup& out, std::string_view side, std::string_view name, const std::string& link) {
    out.open("div", {{"class", "player " + std::string(side)}});
    out.element("p", {{"class", "player-name"}}, name);
    if (link.empty()) {
        out.element("p", {{"class", "quiet"}}, "The sound is not in this report.");
    } else {
        out.open("audio", {{"controls", ""},
                           {"preload", "auto"},
                           {"src", link},
                           {"data-side", std::string(side)},
                           {"aria-label", std::string(name)}});
        out.close("audio");
    }
    out.close("div");
}

void listening(Markup& out, const SoundLinks& sounds) {
    if (sounds.before.empty() && sounds.after.empty()) {
        return;
    }
    out.open("section", {{"class", "listen"}, {"aria-label", "Listen"}});
    out.element("h2", "Listen");
    player(out, "before", "Before", sounds.before);
    player(out, "after", "After", sounds.after);
    if (!sounds.before.empty() && !sounds.after.empty()) {
        // Shown by the script, which is what makes it work.
        out.element("button",
                    {{"type", "button"}, {"class", "alternate"}, {"data-alternate", "true"}, {"hidden", "hidden"}},
                    "Play before, then after");
    }
    out.close("section");
}

bool several_contacts(const dsp::TakeAnalysis& take) {
    return std::any_of(take.taps.begin(), take.taps.end(),
                       [](const dsp::Tap& tap) { return tap.usable && tap.contacts.size() > 1; });
}

void plots(Markup& out, const compare::Comparison& comparison) {
    const std::string taps = draw(picture_of(comparison));
    // Contacts are drawn where they were told apart; a row of single marks would show what was not heard.
    const std::string contacts = several_contacts(comparison.before) || several_contacts(comparison.after)
                                     ? contacts_plot(comparison.before, comparison.after)
                                     : std::string();
    const std::string bands = bands_plot(comparison.before, comparison.after);
    if (taps.empty() && contacts.empty() && bands.empty()) {
        return;
    }
    out.open("section", {{"class", "plots"}, {"aria-label", "Plots"}});
    out.open("div", {{"class", "plots-head"}}).element("h2", "How it sounds");
    out.open("p", {{"class", "keys"}});
    key_entry(out, "before", "before");
    key_entry(out, "after", "after");
    out.close("p").close("div");
    figure(out, "wide picture", taps, "The taps, before above and after below",
           "Level over time, each tap relative to its loudest moment and all laid over each other by it. The bracket "
           "runs from the first sound to the main impact.");
    out.add(finding_sketches(comparison));
    figure(out, "half", contacts, "Contacts inside each tap",
           "One row is one tap, each mark a contact that can be told apart, larger when stronger. Teeth that land "
           "together stand close to 0.");
    figure(out, "half", bands, "Low to high",
           "Where the sound lies, in third-octave bands. The strongest band of each side is 0 dB.");
    out.close("section");
}

void take_column(Markup& out, std::string_view side, std::string_view name, const dsp::TakeAnalysis& take) {
    out.open("div", {{"class", "take-column " + std::string(side)}});
    out.element("h3", name).add(take_notes(take)).close("div");
}

} // namespace

std::string comparison_section(const compare::Comparison& comparison, const SoundLinks& sounds) {
    Markup out;
    out.add(verdict_block(comparison));
    plots(out, comparison);
    listening(out, sounds);
    if (const std::string table = measures_table(comparison.measures); !table.empty()) {
        out.open("section", {{"class", "measured"}, {"aria-label", "Measures"}});
        out.element("h2", "What was measured").add(table).close("section");
    }
    out.open("section", {{"class", "takes"}, {"aria-label", "The two takes"}});
    out.element("h2", "The two takes");
    take_column(out, "before", "Before", comparison.before);
    take_column(out, "after", "After", comparison.after);
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::report
