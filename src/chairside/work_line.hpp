// Work that waits its turn for a few threads.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace retap::chairside {

class WorkLine {
public:
    WorkLine(std::size_t threads, std::size_t most_waiting);
    ~WorkLine() { finish(); }
    WorkLine(const WorkLine&) = delete;
    WorkLine& operator=(const WorkLine&) = delete;

    /// Calls `before` and takes the work; false, and nothing done, when too much waits or finish() was called.
    [[nodiscard]] bool add(std::function<void()> work, const std::function<void()>& before);
    /// Takes no more, and returns when what was taken is done.
    void finish();

private:
    void serve();

    std::size_t most_waiting_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::deque<std::function<void()>> waiting_;
    bool finishing_ = false;
    std::vector<std::thread> threads_;
};

} // namespace retap::chairside
