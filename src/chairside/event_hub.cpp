#include "chairside/event_hub.hpp"

#include <algorithm>
#include <chrono>
#include <deque>
#include <functional>
#include <optional>
#include <vector>

namespace retap::chairside {

namespace {

struct Event {
    std::string name;
    std::string text; ///< as it goes over the line
};

std::string frame(std::string_view name, std::string_view data) {
    std::string text = "event: " + std::string(name) + "\n";
    while (true) {
        const std::size_t end = data.find('\n');
        text += "data: " + std::string(data.substr(0, end)) + "\n";
        if (end == std::string_view::npos) {
            break;
        }
        data.remove_prefix(end + 1);
    }
    return text + "\n";
}

} // namespace

struct EventHub::Shared {
    std::mutex mutex;
    std::vector<Listener*> listeners; ///< the oldest first
    std::size_t max_listeners = 0;
    std::size_t max_waiting = 0;
    bool closed = false;
};

class EventHub::Listener : public TextStream {
public:
    explicit Listener(std::shared_ptr<Shared> shared) : shared_(std::move(shared)) {}
    ~Listener() override {
        const std::lock_guard lock(shared_->mutex);
        std::erase(shared_->listeners, this);
    }
    Listener(const Listener&) = delete;
    Listener& operator=(const Listener&) = delete;

    std::optional<std::string> next() override {
        const std::lock_guard lock(shared_->mutex);
        const auto now = std::chrono::steady_clock::now();
        if (shared_->closed || ended) {
            return std::nullopt;
        }
        if (!spoke_) {
            spoke_ = now;
            return ": listening\n\n"; // lets the browser call the stream open at once
        }
        if (waiting.empty()) {
            // A comment now and then finds out that a page is gone.
            if (now - *spoke_ < std::chrono::seconds(10)) {
                return std::string();
            }
            spoke_ = now;
            return ": still here\n\n";
        }
        spoke_ = now;
        std::string text;
        for (const Event& event : waiting) {
            text += event.text;
        }
        waiting.clear();
        return text;
    }

    void on_ready(std::function<void()> call) override {
        const std::lock_guard lock(shared_->mutex);
        ready = std::move(call);
    }

    // Guarded by the hub's mutex.
    std::deque<Event> waiting;
    std::function<void()> ready;
    bool ended = false;

private:
    std::shared_ptr<Shared> shared_;
    std::optional<std::chrono::steady_clock::time_point> spoke_;
};

namespace {

/// Outside of the hub's lock: who is called may ask for the next piece at once.
void call(const std::vector<std::function<void()>>& ready) {
    for (const auto& one : ready) {
        if (one) {
            one();
        }
    }
}

} // namespace

EventHub::EventHub(std::size_t max_listeners, std::size_t max_waiting) : shared_(std::make_shared<Shared>()) {
    shared_->max_listeners = max_listeners;
    shared_->max_waiting = max_waiting;
}

EventHub::~EventHub() {
    close();
}

void EventHub::publish(std::string_view name, std::string_view data, Keep keep) {
    const Event event{std::string(name), frame(name, data)};
    std::vector<std::function<void()>> ready;
    std::unique_lock lock(shared_->mutex);
    for (Listener* listener : shared_->listeners) {
        if (keep == Keep::newest) {
            std::erase_if(listener->waiting, [&](const Event& waiting) { return waiting.name == event.name; });
        }
        if (listener->waiting.size() >= shared_->max_waiting) {
            listener->waiting.clear();
            listener->waiting.push_back({"missed", frame("missed", "")});
        }
        listener->waiting.push_back(event);
        ready.push_back(listener->ready);
    }
    lock.unlock();
    call(ready);
}

std::shared_ptr<TextStream> EventHub::listen() {
    auto listener = std::make_shared<Listener>(shared_);
    std::vector<std::function<void()>> ready;
    std::unique_lock lock(shared_->mutex);
    if (shared_->closed) {
        return nullptr;
    }
    if (shared_->listeners.size() >= shared_->max_listeners) {
        Listener* const oldest = shared_->listeners.front();
        oldest->ended = true;
        ready.push_back(oldest->ready);
        shared_->listeners.erase(shared_->listeners.begin());
    }
    shared_->listeners.push_back(listener.get());
    lock.unlock();
    call(ready);
    return listener;
}

void EventHub::close() {
    std::vector<std::function<void()>> ready;
    std::unique_lock lock(shared_->mutex);
    shared_->closed = true;
    for (const Listener* listener : shared_->listeners) {
        ready.push_back(listener->ready);
    }
    lock.unlock();
    call(ready);
}

std::size_t EventHub::listeners() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->listeners.size();
}

} // namespace retap::chairside
