// Connections that have not shown yet whether they may come in.
#pragma once

#include <chrono>
#include <cstddef>
#include <list>
#include <mutex>

namespace retap::chairside {

/// Everybody who reaches this server has the same address, so nobody can be told from the page by it. What tells is
/// that a page says at once who it is: who has not after some time is cut off, and when too many wait, the one that has
/// waited longest. So a crowd that is silent or slow costs little and never keeps the page out. For several threads.
class Strangers {
public:
    using Clock = std::chrono::steady_clock;

    struct Waiting {
        int socket;
        Clock::time_point since;
    };
    using Place = std::list<Waiting>::iterator;

    Strangers(std::size_t most, Clock::duration patience) : most_(most), patience_(patience) {}

    /// One that has just connected. Its socket must stay open until remove().
    [[nodiscard]] Place add(int socket, Clock::time_point now);
    /// It has shown itself, or is about to be closed.
    void remove(Place place);
    /// Cuts off those whose time is over.
    void cut_late(Clock::time_point now);

private:
    std::size_t most_;
    Clock::duration patience_;
    std::mutex mutex_;
    std::list<Waiting> waiting_; ///< the longest first
};

} // namespace retap::chairside
