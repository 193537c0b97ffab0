#include "report/visit_report.hpp"

#include "report/html_page.hpp"
#include "report/markup.hpp"
#include "report/staircase.hpp"
#include "report/visit_sections.hpp"
#include "visit/inherit.hpp"
#include "visit/open_decision.hpp"
#include "visit/take_sounds.hpp"

#include <algorithm>

namespace retap::report {

namespace {

void row(Markup& out, std::string_view name, const std::string& value) {
    if (!value.empty()) {
        out.open("div").element("dt", name).element("dd", value).close("div");
    }
}

std::string particulars(const visit::Visit& visit) {
    const visit::Opened& opened = visit.opened.content;
    Markup out;
    out.open("section", {{"class", "visit-head"}, {"aria-label", "The visit"}}).open("dl");
    row(out, "Tooth",
        list(opened.treated, opened.numbering) +
            (opened.numbering == chart::Numbering::iso ? " (ISO 3950)" : " (Universal)"));
    row(out, "Opened", readable_time(visit.opened.stamp.at));
    row(out, "Treats", opened.worker);
    row(out, "Supervises", opened.supervisor);
    row(out, "State", visit.closed() ? "signed and closed" : "open, not signed");
    std::string other_days;
    for (const std::string& sentence : visit::sentences(visit.chain)) {
        other_days += (other_days.empty() ? "" : " ") + sentence;
    }
    row(out, "Other days", other_days);
    row(out, "Still open", still_open(visit));
    out.close("dl").close("section");
    return std::move(out).str();
}

std::optional<chart::SoundSays> latest_verdict(const visit::Visit& visit, const std::vector<LookSound>& sounds) {
    const visit::Look* latest = visit.latest();
    for (const LookSound& sound : sounds) {
        if (latest != nullptr && sound.look == latest->name && sound.comparison) {
            return chart::sound_says(*sound.comparison);
        }
    }
    return std::nullopt;
}

Sound playable(const std::vector<std::byte>& flac) {
    return {.media_type = "audio/flac", .bytes = {reinterpret_cast<const char*>(flac.data()), flac.size()}};
}

} // namespace

std::vector<LookSound> look_sounds(const visit::Visit& visit, const VisitTakes& takes) {
    std::vector<LookSound> sounds;
    for (const visit::Look& look : visit.looks) {
        sounds.push_back({.look = look.name, .sound = {}, .comparison = {}});
        if (!look.takes.empty()) {
            sounds.back().sound = playable(takes.flac(look));
        }
        if (can_compare(visit, look)) {
            sounds.back().comparison = takes.comparison(look);
        }
    }
    return sounds;
}

std::string still_open(const visit::Visit& visit) {
    const auto open = visit::open_decision(visit);
    if (!open) {
        return "";
    }
    const visit::Said<visit::Decided>& said = open->decision;
    std::string text = said.content.action == visit::Action::wait ? "to be looked at again on another day"
                                                                  : "to be adjusted and looked at again";
    text += ", decided " + readable_time(said.first_said().at) + " by " + said.first_said().by;
    if (open->numb) {
        text += *open->numb ? "; the patient was numb" : "; the patient was not numb";
    }
    return text + (said.content.words.empty() ? "." : ": " + said.content.words);
}

ReportHeading visit_heading(const visit::Visit& visit, const std::string& made_at, const std::string& program) {
    const visit::Opened& opened = visit.opened.content;
    return {.title = "Visit " + opened.label + (opened.procedure.empty() ? "" : ": " + opened.procedure),
            .when = "Report of " + readable_time(made_at),
            .program = program};
}

std::string visit_section(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                          const std::vector<std::string>& links) {
    const auto compared = [&](const visit::Look& look) {
        const auto sound = std::ranges::find(sounds, look.name, &LookSound::look);
        return sound == sounds.end() ? std::nullopt : sound->comparison;
    };
    Markup stairs;
    if (const std::string drawing = staircase(stair_steps(visit, compared)); !drawing.empty()) {
        stairs.open("section", {{"class", "stairs"}, {"aria-label", "Look by look"}}).element("h2", "Look by look");
        stairs.open("figure").add(drawing).close("figure").close("section");
    }
    return particulars(visit) + looks_table(visit) + std::move(stairs).str() +
           tooth_charts(visit, ChartsOf::all_looks) + next_section(visit, latest_verdict(visit, sounds)) +
           sign_off(visit) + holds_and_marks_tables(visit) + sound_section(visit, sounds, links);
}

std::string visit_report(const visit::Visit& visit, const std::vector<LookSound>& sounds,
                         const ReportHeading& heading) {
    std::vector<std::string> links;
    for (const visit::Look& look : visit.looks) {
        std::string link;
        for (const LookSound& sound : sounds) {
            if (sound.look == look.name) {
                link = data_uri(sound.sound);
            }
        }
        links.push_back(link);
    }
    return html_page(heading, visit_section(visit, sounds, links));
}

} // namespace retap::report
