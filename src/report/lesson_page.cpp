#include "report/lesson_page.hpp"

#include "report/assets.hpp"
#include "report/html_page.hpp"
#include "report/lesson_heard.hpp"
#include "report/lesson_plot.hpp"
#include "report/markup.hpp"
#include "report/wording.hpp"

#include <cassert>

namespace retap::report {

namespace {

std::string numbered(const bite::Lesson& lesson) {
    return "Lesson " + std::to_string(lesson.number) + ": " + lesson.title;
}

void player(Markup& out, const std::string& name, const std::string& caption, const Sound& sound) {
    out.open("div", {{"class", "lesson-sound"}});
    out.open("p").element("strong", name).text(": " + caption).close("p");
    out.open("audio", {{"controls", ""}, {"preload", "none"}, {"src", data_uri(sound)}, {"aria-label", name}});
    out.close("audio").close("div");
}

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

void task(Markup& out, const HandoutLesson& entry) {
    const bite::LessonTask& asked = entry.lesson.task;
    const std::string group = "lesson-" + std::to_string(entry.lesson.number);
    out.open("div", {{"class", "lesson-task"}, {"data-task", std::to_string(asked.right)}});
    out.element("h3", "Your turn");
    for (std::size_t i = 0; i < asked.sounds.size(); ++i) {
        player(out, asked.sounds[i].name, asked.sounds[i].caption, entry.task_sounds[i]);
    }
    out.open("fieldset").element("legend", asked.question);
    for (std::size_t i = 0; i < asked.choices.size(); ++i) {
        out.open("label", {{"class", "lesson-choice"}});
        out.empty("input", {{"type", "radio"}, {"name", group}, {"value", std::to_string(i)}});
        out.text(" " + asked.choices[i]).close("label");
    }
    out.close("fieldset");
    out.open("button", {{"type", "button"}, {"hidden", ""}}).text("Check my answer").close("button");
    out.open("p", {{"role", "status"}, {"class", "lesson-said"}}).close("p");
    out.open("details").element("summary", "The answer");
    out.element("p", "It is: " + asked.choices[asked.right] + ". " + asked.because).close("details").close("div");
}

void lesson_section(Markup& out, const HandoutLesson& entry) {
    assert(entry.sounds.size() == entry.lesson.sounds.size());
    assert(entry.task_sounds.size() == entry.lesson.task.sounds.size());
    out.open("section", {{"class", "lesson"}, {"aria-label", numbered(entry.lesson)}});
    out.element("h2", numbered(entry.lesson));
    for (const std::string& paragraph : entry.lesson.words) {
        out.element("p", paragraph);
    }
    out.open("div", {{"class", "lesson-sounds"}});
    std::vector<NamedTruth> rows;
    for (std::size_t i = 0; i < entry.sounds.size(); ++i) {
        player(out, entry.lesson.sounds[i].name, entry.lesson.sounds[i].caption, entry.sounds[i].sound);
        rows.push_back({.name = entry.lesson.sounds[i].name, .truth = entry.sounds[i].truth});
    }
    out.close("div");
    out.open("figure").add(lesson_plot(rows));
    out.element("figcaption", "The truth of the model: a disc for each pair of teeth, where it first met in a tap.");
    out.close("figure");
    heard_table(out, entry);
    task(out, entry);
    out.close("section");
}

void list(Markup& out, const char* title, const std::vector<std::string>& items) {
    out.element("h3", title).open("ul");
    for (const std::string& item : items) {
        out.element("li", item);
    }
    out.close("ul");
}

} // namespace

std::string lesson_page(const std::vector<HandoutLesson>& lessons, const bite::ClinicWords& words,
                        const ReportHeading& heading) {
    Markup out;
    out.open("section", {{"class", "lesson"}, {"aria-label", "How to use this page"}});
    out.element("p",
                "Every sound here is made by a physical model of a closing bite, so that what happened is known. No "
                "patient was recorded. Use headphones, work through the lessons in order, and answer each task "
                "before you open its answer. The page needs no network.");
    out.open("p", {{"role", "status"}, {"data-score", ""}}).close("p").close("section");
    for (const HandoutLesson& entry : lessons) {
        lesson_section(out, entry);
    }
    out.open("section", {{"class", "lesson"}, {"aria-label", "For the clinic"}}).element("h2", "For the clinic");
    list(out, "What the sound of a tap can tell, beside film and marks", words.can);
    list(out, "What it cannot tell", words.cannot);
    out.close("section");
    out.open("script").add(lesson_quiz_js()).close("script");
    return html_page(heading, out.str());
}

} // namespace retap::report
