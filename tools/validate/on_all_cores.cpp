#include "validate/on_all_cores.hpp"

#include "commands/terminal.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace retap::validate {

void on_all_cores(std::size_t count, std::size_t cores, std::string_view unit,
                  const std::function<void(std::size_t)>& work) {
    commands::Progress progress(count, unit);
    std::atomic<std::size_t> next{0};
    std::mutex lock;
    std::exception_ptr failure;
    const auto worker = [&] {
        for (std::size_t item = next++; item < count; item = next++) {
            try {
                work(item);
                progress.step();
            } catch (...) {
                const std::scoped_lock hold(lock);
                failure = failure ? failure : std::current_exception();
                next = count;
            }
        }
    };
    const std::size_t wanted = cores > 0 ? cores : std::max(1U, std::thread::hardware_concurrency());
    {
        std::vector<std::jthread> threads;
        for (std::size_t t = 0; t < std::min(wanted, count); ++t) {
            threads.emplace_back(worker);
        }
    }
    if (failure) {
        std::rethrow_exception(failure);
    }
}

} // namespace retap::validate
