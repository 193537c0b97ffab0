// The guided lessons with their sounds made, kept at hand while somebody works through them.
#pragma once

#include "report/lesson_page.hpp"

#include <cstdint>
#include <list>
#include <memory>
#include <mutex>

namespace retap::chairside {

/// For several threads at once.
class LessonShelf {
public:
    /// Lesson 1 to bite::lesson_count (asserted). The seed decides what the task leaves to chance.
    [[nodiscard]] std::shared_ptr<const report::HandoutLesson> lesson(int number, std::uint64_t task_seed);

private:
    struct Kept {
        int number = 0;
        std::uint64_t task_seed = 0;
        std::shared_ptr<const report::HandoutLesson> lesson;
    };
    std::list<Kept> kept_; ///< the newest first, a few only
    std::mutex mutex_;
};

} // namespace retap::chairside
