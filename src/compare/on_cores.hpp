// The same work many times over, shared out over the cores.
#pragma once

#include <algorithm>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace retap::compare {

/// Calls work(tool, 0) .. work(tool, count - 1), each once, on as many threads as the machine has cores and at most
/// four; each thread has a copy of `tool`. Work on one index must neither touch what another writes nor hang on what an
/// earlier one left in the tool: then the outcome does not depend on the cores. An exception of `work` is thrown again
/// here, once all threads have ended.
template <typename Tool, typename Work>
void on_cores(const Tool& tool, std::size_t count, const Work& work) {
    constexpr std::size_t most = 4; // a comparison is over before more would have begun
    const std::size_t threads = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, most);
    const auto share_of = [&](std::size_t thread) {
        Tool own(tool);
        for (std::size_t i = thread; i < count; i += threads) {
            work(own, i);
        }
    };
    std::vector<std::future<void>> others;
    for (std::size_t thread = 1; thread < std::min(threads, count); ++thread) {
        others.push_back(std::async(std::launch::async, share_of, thread));
    }
    share_of(0);
    for (std::future<void>& other : others) {
        other.get();
    }
}

} // namespace retap::compare
