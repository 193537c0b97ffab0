#include "report/html_sections.hpp"
#include "report/markup.hpp"
#include "report/measures_table.hpp"
#include "report/plots.hpp"
#include "report/tap_picture.hpp"
#include "report/visit_sections.hpp"

#include <algorithm>

namespace retap::report {

namespace {

void player(Markup& out, std::string_view heading, const std::string& link, std::string_view side, bool in_turn) {
    out.open("div", {{"class", "player " + std::string(side)}}).element("p", {{"class", "player-name"}}, heading);
    // the script plays one of each side after the other: the baseline and the latest look
    out.open("audio", {{"controls", ""},
                       {"preload", "auto"},
                       {"src", link},
                       {"data-side", in_turn ? std::string(side) : "other"},
                       {"aria-label", std::string(heading)}});
    out.close("audio").close("div");
}

void players(Markup& out, const visit::Visit& visit, const std::vector<std::string>& links) {
    std::size_t before = 0;
    std::size_t last = links.size();
    for (std::size_t i = 0; i < links.size(); ++i) {
        const bool baseline = visit.looks.at(i).name.kind == visit::LookKind::before;
        before += baseline && !links[i].empty() ? 1U : 0U;
        last = !baseline && !links[i].empty() ? i : last;
    }
    out.open("div", {{"class", "listen"}});
    for (std::size_t i = 0; i < links.size(); ++i) {
        if (!links[i].empty()) {
            const visit::LookName& name = visit.looks.at(i).name;
            const bool baseline = name.kind == visit::LookKind::before;
            player(out, look_heading(name), links[i], baseline ? "before" : "after", baseline || i == last);
        }
    }
    if (before > 0 && last < links.size()) {
        out.element("button",
                    {{"type", "button"}, {"class", "alternate"}, {"data-alternate", "true"}, {"hidden", "hidden"}},
                    "Play before, then " + look_heading(visit.looks.at(last).name));
    }
    out.close("div");
}

void plot(Markup& out, std::string_view css_class, const std::string& drawing, std::string_view title) {
    if (!drawing.empty()) {
        out.open("figure", {{"class", std::string(css_class)}}).element("h3", title).add(drawing).close("figure");
    }
}

bool told_apart(const dsp::TakeAnalysis& take) {
    return std::ranges::any_of(take.taps, [](const dsp::Tap& tap) { return tap.usable && tap.contacts.size() > 1; });
}

void comparison_part(Markup& out, const compare::Comparison& comparison) {
    out.add(verdict_block(comparison));
    out.open("div", {{"class", "plots"}});
    plot(out, "wide picture", draw(picture_of(comparison)), "The taps, before above and after below");
    out.add(finding_sketches(comparison));
    const std::string contacts = told_apart(comparison.before) || told_apart(comparison.after)
                                     ? contacts_plot(comparison.before, comparison.after)
                                     : std::string();
    plot(out, "half", contacts, "Contacts inside each tap");
    // when they land says more than how high they sound; paper has room for one of the two
    plot(out, contacts.empty() ? "half" : "half screen-only", bands_plot(comparison.before, comparison.after),
         "Low to high");
    out.close("div");
    if (const std::string table = measures_table(comparison.measures); !table.empty()) {
        out.open("details").element("summary", "What was measured").add(table).close("details");
    }
}

} // namespace

std::string sound_section(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                          const std::vector<std::string>& links) {
    const LookSound* latest = nullptr;
    bool anything = false;
    for (const LookSound& sound : sounds) {
        anything = anything || sound.sound || sound.comparison;
        if (sound.comparison && (latest == nullptr || latest->look < sound.look)) {
            latest = &sound;
        }
    }
    for (const std::string& link : links) {
        anything = anything || !link.empty();
    }
    if (!anything) {
        return "";
    }
    Markup out;
    out.open("section", {{"class", "visit-sound"}, {"aria-label", "Sound"}});
    out.element("h2",
                latest == nullptr ? std::string("Sound") : "Sound: " + look_heading(latest->look) + " against before");
    players(out, visit, links);
    if (latest != nullptr) {
        comparison_part(out, *latest->comparison);
    } else {
        out.element("p", "There is nothing to compare yet.");
    }
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::report
