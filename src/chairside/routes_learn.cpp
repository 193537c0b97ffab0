#include "chairside/routes.hpp"

#include "chairside/bench_query.hpp"
#include "error.hpp"
#include "lesson/bite_words.hpp"
#include "lesson/chart_pictures.hpp"
#include "lesson/handout.hpp"
#include "report/lesson_bench_section.hpp"
#include "report/lesson_section.hpp"

#include <charconv>

namespace retap::chairside {

using report::Json;

namespace {

HttpReply compact(const Json& json) {
    return json_reply(report::json_text(json, report::JsonLayout::one_line));
}

HttpReply sound_reply(std::string flac) {
    HttpReply reply;
    reply.media_type = "audio/flac";
    reply.body = std::move(flac);
    return reply;
}

std::uint64_t whole(std::string_view text, const char* what) {
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) {
        throw InputError("There is no such " + std::string(what) + ".");
    }
    return value;
}

std::uint64_t member(const Json& body, const char* name) {
    const auto found = body.find(name);
    if (found == body.end() || !found->is_number_unsigned()) {
        throw InputError("What the page sent cannot be read. Reload the page.");
    }
    return found->get<std::uint64_t>();
}

std::shared_ptr<const report::HandoutLesson> lesson_of(LessonShelf& lessons, const std::string& number,
                                                       std::uint64_t seed) {
    const std::uint64_t value = whole(number, "lesson");
    if (value < 1 || value > bite::lesson_count) {
        throw InputError("There is no such lesson.");
    }
    return lessons.lesson(static_cast<int>(value), seed);
}

std::uint64_t seed_of(const HttpRequest& request) {
    return whole(request.query_value("seed"), "draw of a task");
}

template <class Sounds>
const auto& sound_at(const Sounds& sounds, const std::string& index) {
    const std::uint64_t at = whole(index, "sound");
    if (at >= sounds.size()) {
        throw InputError("There is no such sound.");
    }
    return sounds[at];
}

std::string lesson_view(const report::HandoutLesson& lesson, const std::string& number, std::uint64_t seed) {
    std::vector<std::string> links;
    for (std::size_t i = 0; i < lesson.sounds.size(); ++i) {
        links.push_back("/api/learn/lessons/" + number + "/sounds/" + std::to_string(i) +
                        "?seed=" + std::to_string(seed));
    }
    return report::lesson_section(lesson, links);
}

/// The task without its answer.
Json task_json(const bite::Lesson& lesson) {
    Json sounds = Json::array();
    for (const bite::LessonSound& sound : lesson.task.sounds) {
        sounds.push_back({{"name", sound.name}, {"caption", sound.caption}});
    }
    return {{"title", lesson.title},
            {"question", lesson.task.question},
            {"choices", lesson.task.choices},
            {"sounds", std::move(sounds)}};
}

std::string bench_view(const HttpRequest& request) {
    const bite::LessonBite bite = bite_of_query(request);
    const auto numbering = chart::numbering_from(request.query_value("numbering")).value_or(chart::Numbering::iso);
    const lesson::LessonTake balanced = lesson::make_and_hear(bite::balanced(bite), "");
    const lesson::LessonTake made = lesson::make_and_hear(bite, "");
    const auto chosen = tooth_of_query(request);
    return report::lesson_bench_section({.bite = lesson::bite_in_words(bite, numbering, chosen),
                                         .physics = lesson::physics_in_words(bite, numbering, chosen),
                                         .taps = static_cast<std::size_t>(bite.taps),
                                         .numbering = numbering,
                                         .balanced = {balanced.truth, balanced.heard},
                                         .made = {made.truth, made.heard}});
}

std::string bench_sound(const HttpRequest& request) {
    const bite::LessonBite bite = bite_of_query(request);
    const bool balanced = request.query_value("balanced") == "1";
    const audio::Sound sound = lesson::sound_of(bite::make_lesson_take(balanced ? bite::balanced(bite) : bite));
    return lesson::flac_of(lesson::slowed(sound, slow_motion_of_query(request)));
}

HearingSettings settings_of(const Json& body) {
    HearingSettings settings;
    settings.seed = member(body, "seed");
    const auto way = body.find("way");
    settings.pairs = way != body.end() && *way == "same";
    if (const auto learner = body.find("learner"); learner != body.end() && learner->is_string()) {
        settings.learner = learner->get<std::string>();
    }
    if (const auto height = body.find("heightUm"); height != body.end() && height->is_number()) {
        settings.height_um = height->get<double>();
    }
    return settings;
}

void add_lessons(Router& router, LessonShelf& lessons) {
    router.add("GET", "/api/learn/lessons", [](const HttpRequest&, const PathParts&) {
        Json list = Json::array();
        for (int number = 1; number <= bite::lesson_count; ++number) {
            list.push_back(bite::lesson(number, 1).title);
        }
        return compact({{"titles", std::move(list)}});
    });
    router.add("GET", "/api/learn/clinic", [](const HttpRequest&, const PathParts&) {
        return html_reply(report::clinic_words_section(bite::clinic_words()));
    });
    router.add("GET", "/api/learn/lessons/:", [&](const HttpRequest& request, const PathParts& parts) {
        const std::uint64_t seed = seed_of(request);
        return html_reply(lesson_view(*lesson_of(lessons, parts[0], seed), parts[0], seed));
    });
    router.add("GET", "/api/learn/lessons/:/task", [&](const HttpRequest& request, const PathParts& parts) {
        return compact(task_json(lesson_of(lessons, parts[0], seed_of(request))->lesson));
    });
    router.add("GET", "/api/learn/lessons/:/sounds/:", [&](const HttpRequest& request, const PathParts& parts) {
        const auto lesson = lesson_of(lessons, parts[0], seed_of(request));
        return sound_reply(sound_at(lesson->sounds, parts[1]).sound.bytes);
    });
    router.add("GET", "/api/learn/lessons/:/task/sounds/:", [&](const HttpRequest& request, const PathParts& parts) {
        const auto lesson = lesson_of(lessons, parts[0], seed_of(request));
        return sound_reply(sound_at(lesson->task_sounds, parts[1]).bytes);
    });
    router.add("POST", "/api/learn/lessons/:/answer", [&](const HttpRequest& request, const PathParts& parts) {
        const Json body = body_of(request);
        const auto lesson = lesson_of(lessons, parts[0], member(body, "seed"));
        const bite::LessonTask& task = lesson->lesson.task;
        return compact({{"right", member(body, "choice") == task.right},
                        {"answer", task.choices[task.right]},
                        {"because", task.because}});
    });
}

lesson::ChartLesson chart_lesson_of(const std::string& number, const HttpRequest& request) {
    const std::uint64_t value = whole(number, "patient");
    if (value < 1 || value > static_cast<std::uint64_t>(lesson::chart_patient_count)) {
        throw InputError("There is no such patient.");
    }
    return lesson::chart_lesson(
        static_cast<int>(value), seed_of(request),
        chart::numbering_from(request.query_value("numbering")).value_or(chart::Numbering::iso));
}

[[noreturn]] void not_readable() {
    throw InputError("What the page sent cannot be read. Reload the page.");
}

/// `body` has "holds" (notation), "marks" (one notation for each drawing) and "choices".
lesson::ChartAnswers chart_answers_of(const lesson::ChartLesson& lesson, const Json& body) {
    const auto marks = body.find("marks");
    const auto choices = body.find("choices");
    const auto holds = body.find("holds");
    if (holds == body.end() || !holds->is_string() || marks == body.end() || !marks->is_array() ||
        choices == body.end() || !choices->is_array()) {
        not_readable();
    }
    std::vector<std::string> charts;
    for (const Json& text : *marks) {
        if (!text.is_string()) {
            not_readable();
        }
        charts.push_back(text.get<std::string>());
    }
    std::vector<std::size_t> chosen;
    for (const Json& choice : *choices) {
        if (!choice.is_number_unsigned()) {
            not_readable();
        }
        chosen.push_back(choice.get<std::size_t>());
    }
    return lesson::chart_answers(lesson, holds->get<std::string>(), charts, chosen);
}

void add_chart_lessons(Router& router) {
    router.add("GET", "/api/learn/charts", [](const HttpRequest&, const PathParts&) {
        return compact({{"patients", lesson::chart_patient_count}});
    });
    router.add("GET", "/api/learn/charts/:", [](const HttpRequest& request, const PathParts& parts) {
        const lesson::ChartLesson lesson = chart_lesson_of(parts[0], request);
        Json json = lesson::chart_lesson_json(lesson, nullptr, nullptr);
        json["drawings"] = lesson::chart_drawings(lesson);
        return compact(json);
    });
    // "answers" of one observer, and those of a second one under "second" when the two are to be compared.
    router.add("POST", "/api/learn/charts/:/answer", [](const HttpRequest& request, const PathParts& parts) {
        const Json body = body_of(request);
        const auto answers = body.find("answers");
        if (answers == body.end() || !answers->is_object()) {
            not_readable();
        }
        const lesson::ChartLesson lesson = chart_lesson_of(parts[0], request);
        const lesson::ChartAnswers said = chart_answers_of(lesson, *answers);
        const lesson::ChartResult result = lesson::check_charts(lesson, said);
        const auto second = body.find("second");
        if (second == body.end() || second->is_null()) {
            return compact(lesson::chart_result_json(result, nullptr));
        }
        const auto agreement = lesson::agreement_between(chart_answers_of(lesson, *second), said);
        return compact(lesson::chart_result_json(result, &agreement));
    });
}

void add_tests(Router& router, HearingDesk& hearing) {
    router.add("POST", "/api/learn/tests", [&](const HttpRequest& request, const PathParts&) {
        return compact(hearing.begin(settings_of(body_of(request))));
    });
    router.add("GET", "/api/learn/tests/:", [&](const HttpRequest&, const PathParts& parts) {
        return compact(hearing.state(parts[0]));
    });
    router.add("POST", "/api/learn/tests/:/answer", [&](const HttpRequest& request, const PathParts& parts) {
        const Json body = body_of(request);
        return compact(hearing.answer(parts[0], member(body, "number"), member(body, "choice")));
    });
    router.add("GET", "/api/learn/tests/:/sounds/:", [&](const HttpRequest&, const PathParts& parts) {
        return sound_reply(hearing.sound(parts[0], whole(parts[1], "trial")));
    });
    router.add("GET", "/api/learn/tests/:/missed/:", [&](const HttpRequest&, const PathParts& parts) {
        return sound_reply(hearing.missed(parts[0], whole(parts[1], "trial")));
    });
    router.add("GET", "/api/learn/results", [&](const HttpRequest&, const PathParts&) {
        HttpReply reply;
        reply.media_type = "text/csv; charset=utf-8";
        reply.body = hearing.results();
        reply.headers = {{"Content-Disposition", "attachment; filename=\"retap-listening.csv\""}};
        return reply;
    });
}

} // namespace

void add_learn_routes(Router& router, LessonShelf& lessons, HearingDesk& hearing) {
    router.add("GET", "/api/learn/bench",
               [](const HttpRequest& request, const PathParts&) { return html_reply(bench_view(request)); });
    router.add("GET", "/api/learn/bench/sound",
               [](const HttpRequest& request, const PathParts&) { return sound_reply(bench_sound(request)); });
    add_lessons(router, lessons);
    add_chart_lessons(router);
    add_tests(router, hearing);
}

} // namespace retap::chairside
