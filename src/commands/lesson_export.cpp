#include "lesson_export.hpp"

#include "aside_file.hpp"
#include "bite/course.hpp"
#include "lesson/handout.hpp"
#include "report/lesson_page.hpp"
#include "terminal.hpp"

#include <future>
#include <utility>
#include <vector>

namespace retap::commands {
namespace {

constexpr std::uint64_t task_seed = 20; // its right answers are not all in one place

} // namespace

void export_lessons(const std::filesystem::path& file) {
    AsideFile out(file); // opened before the work that it will hold
    std::vector<std::future<report::HandoutLesson>> pending;
    for (int number = 1; number <= bite::lesson_count; ++number) {
        pending.push_back(std::async(std::launch::async, lesson::handout_lesson, number, task_seed));
    }
    Progress progress(pending.size(), "lessons");
    std::vector<report::HandoutLesson> lessons;
    for (auto& lesson : pending) {
        lessons.push_back(lesson.get());
        progress.step();
    }
    out.write(report::lesson_page(
        lessons, bite::clinic_words(),
        {.title = "What a balanced bite sounds like", .when = "", .program = "Retap " RETAP_VERSION}));
    out.commit();
}

} // namespace retap::commands
