#include "report/lesson_section.hpp"

#include "report/lesson_heard.hpp"
#include "report/lesson_plot.hpp"
#include "report/markup.hpp"
#include "report/wording.hpp"

#include <cassert>

namespace retap::report {

namespace {

void heard_table(Markup& out, const HandoutLesson& entry) {
    out.open("div", {{"class", "lesson-table"},
                     {"tabindex", "0"},
                     {"role", "region"},
                     {"aria-label", "Measured, lesson " + std::to_string(entry.lesson.number)}});
    out.open("table", {{"class", "visit-table"}});
    out.element("caption", "What happened, and what Retap measured from the sound alone");
    out.open("thead").open("tr").element("th", {{"scope", "col"}}, "Sound");
    out.element("th", {{"scope", "col"}}, "truth: contacts spread over");
    for (const HeardMeasure& measure : heard_measures(entry.sounds.front().heard)) {
        out.element("th", {{"scope", "col"}}, "measured: " + measure.label);
    }
    out.close("tr").close("thead").open("tbody");
    for (std::size_t i = 0; i < entry.sounds.size(); ++i) {
        out.open("tr").element("th", {{"scope", "row"}}, entry.lesson.sounds[i].name);
        out.element("td", quantity(entry.sounds[i].truth.spread_ms, "ms"));
        for (const HeardMeasure& measure : heard_measures(entry.sounds[i].heard)) {
            out.element("td", measure.middle ? quantity(*measure.middle, measure.unit) : "not told apart");
        }
        out.close("tr");
    }
    out.close("tbody").close("table").close("div");
}

void titled_list(Markup& out, const char* title, const std::vector<std::string>& items) {
    out.element("h3", title).open("ul");
    for (const std::string& item : items) {
        out.element("li", item);
    }
    out.close("ul");
}

} // namespace

std::string lesson_player(const std::string& name, const std::string& caption, const std::string& link) {
    Markup out;
    out.open("div", {{"class", "lesson-sound"}});
    out.open("p").element("strong", name).text(": " + caption).close("p");
    out.open("audio", {{"controls", ""}, {"preload", "none"}, {"src", link}, {"aria-label", name}});
    out.close("audio").close("div");
    return std::move(out).str();
}

std::string lesson_section(const HandoutLesson& entry, const std::vector<std::string>& links) {
    assert(entry.sounds.size() == entry.lesson.sounds.size() && links.size() == entry.sounds.size());
    Markup out;
    for (const std::string& paragraph : entry.lesson.words) {
        out.element("p", paragraph);
    }
    out.open("div", {{"class", "lesson-sounds"}});
    std::vector<NamedTruth> rows;
    for (std::size_t i = 0; i < entry.sounds.size(); ++i) {
        out.add(lesson_player(entry.lesson.sounds[i].name, entry.lesson.sounds[i].caption, links[i]));
        rows.push_back({.name = entry.lesson.sounds[i].name, .truth = entry.sounds[i].truth});
    }
    out.close("div");
    out.open("figure").add(lesson_plot(rows));
    out.element("figcaption", "The truth of the model: a disc for each pair of teeth, where it first met in a tap.");
    out.close("figure");
    heard_table(out, entry);
    return std::move(out).str();
}

std::string clinic_words_section(const bite::ClinicWords& words) {
    Markup out;
    out.open("section", {{"class", "lesson"}, {"aria-label", "For the clinic"}}).element("h2", "For the clinic");
    titled_list(out, "What the sound of a tap can tell, beside film and marks", words.can);
    titled_list(out, "What it cannot tell", words.cannot);
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::report
