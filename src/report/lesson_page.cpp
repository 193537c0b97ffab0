#include "report/lesson_page.hpp"

#include "report/assets.hpp"
#include "report/html_page.hpp"
#include "report/lesson_section.hpp"
#include "report/markup.hpp"

#include <cassert>

namespace retap::report {

namespace {

std::string numbered(const bite::Lesson& lesson) {
    return "Lesson " + std::to_string(lesson.number) + ": " + lesson.title;
}

void task(Markup& out, const HandoutLesson& entry) {
    const bite::LessonTask& asked = entry.lesson.task;
    assert(entry.task_sounds.size() == asked.sounds.size());
    const std::string group = "lesson-" + std::to_string(entry.lesson.number);
    out.open("div", {{"class", "lesson-task"}, {"data-task", std::to_string(asked.right)}});
    out.element("h3", "Your turn");
    for (std::size_t i = 0; i < asked.sounds.size(); ++i) {
        out.add(lesson_player(asked.sounds[i].name, asked.sounds[i].caption, data_uri(entry.task_sounds[i])));
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

void lesson_part(Markup& out, const HandoutLesson& entry) {
    std::vector<std::string> links;
    for (const HandoutSound& sound : entry.sounds) {
        links.push_back(data_uri(sound.sound));
    }
    out.open("section", {{"class", "lesson"}, {"aria-label", numbered(entry.lesson)}});
    out.element("h2", numbered(entry.lesson)).add(lesson_section(entry, links));
    task(out, entry);
    out.close("section");
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
        lesson_part(out, entry);
    }
    out.add(clinic_words_section(words));
    out.open("script").add(lesson_quiz_js()).close("script");
    return html_page(heading, out.str());
}

} // namespace retap::report
