#include "chairside/lesson_shelf.hpp"

#include "lesson/handout.hpp"

namespace retap::chairside {

std::shared_ptr<const report::HandoutLesson> LessonShelf::lesson(int number, std::uint64_t task_seed) {
    constexpr std::size_t most = 3;
    const std::lock_guard lock(mutex_); // one at a time: who asks for the sounds of a lesson wants the same one
    for (const Kept& kept : kept_) {
        if (kept.number == number && kept.task_seed == task_seed) {
            return kept.lesson;
        }
    }
    kept_.push_front(
        {.number = number,
         .task_seed = task_seed,
         .lesson = std::make_shared<const report::HandoutLesson>(lesson::handout_lesson(number, task_seed))});
    if (kept_.size() > most) {
        kept_.pop_back();
    }
    return kept_.front().lesson;
}

} // namespace retap::chairside
