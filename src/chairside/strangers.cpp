#include "chairside/strangers.hpp"

#include <sys/socket.h>

namespace retap::chairside {

namespace {

/// The server's own thread sees the end of the connection and closes it.
void cut(const Strangers::Waiting& waiting) {
    ::shutdown(waiting.socket, SHUT_RDWR);
}

} // namespace

Strangers::Place Strangers::add(int socket, Clock::time_point now) {
    const std::lock_guard lock(mutex_);
    if (waiting_.size() >= most_) {
        // Cut, it stays in the list until its socket is closed; at the end of it, so that the next one is another.
        cut(waiting_.front());
        waiting_.splice(waiting_.end(), waiting_, waiting_.begin());
    }
    waiting_.push_back({socket, now});
    return std::prev(waiting_.end());
}

void Strangers::remove(Place place) {
    const std::lock_guard lock(mutex_);
    waiting_.erase(place);
}

void Strangers::cut_late(Clock::time_point now) {
    const std::lock_guard lock(mutex_);
    for (const Waiting& waiting : waiting_) {
        if (now - waiting.since > patience_) {
            cut(waiting);
        }
    }
}

} // namespace retap::chairside
