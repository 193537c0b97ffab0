#include "chairside/work_line.hpp"

#include <utility>

namespace retap::chairside {

WorkLine::WorkLine(std::size_t threads, std::size_t most_waiting) : most_waiting_(most_waiting) {
    for (std::size_t i = 0; i < threads; ++i) {
        threads_.emplace_back([this] { serve(); });
    }
}

bool WorkLine::add(std::function<void()> work, const std::function<void()>& before) {
    const std::lock_guard lock(mutex_);
    if (finishing_ || waiting_.size() >= most_waiting_) {
        return false;
    }
    before();
    waiting_.push_back(std::move(work));
    changed_.notify_one();
    return true;
}

void WorkLine::finish() {
    {
        const std::lock_guard lock(mutex_);
        finishing_ = true;
        changed_.notify_all();
    }
    for (std::thread& thread : threads_) {
        if (thread.joinable()) {
            thread.join();
        }
    }
}

void WorkLine::serve() {
    while (true) {
        std::function<void()> work;
        {
            std::unique_lock lock(mutex_);
            changed_.wait(lock, [this] { return finishing_ || !waiting_.empty(); });
            if (waiting_.empty()) {
                return;
            }
            work = std::move(waiting_.front());
            waiting_.pop_front();
        }
        work();
    }
}

} // namespace retap::chairside
