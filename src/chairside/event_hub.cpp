#include "chairside/event_hub.hpp"

#include <algorithm>
#include <deque>
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
    std::condition_variable changed;
    std::vector<Listener*> listeners;
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

    std::optional<std::string> next(std::chrono::milliseconds at_most) override {
        std::unique_lock lock(shared_->mutex);
        if (first_) {
            first_ = false;
            return ": listening\n\n"; // lets the browser call the stream open at once
        }
        const bool came =
            shared_->changed.wait_for(lock, at_most, [this] { return shared_->closed || !waiting.empty(); });
        if (shared_->closed) {
            return std::nullopt;
        }
        if (!came) {
            // A comment now and then finds out that a page is gone.
            quiet_ += at_most;
            if (quiet_ < std::chrono::seconds(10)) {
                return std::string();
            }
            quiet_ = {};
            return ": still here\n\n";
        }
        quiet_ = {};
        std::string text;
        for (const Event& event : waiting) {
            text += event.text;
        }
        waiting.clear();
        return text;
    }

    std::deque<Event> waiting; ///< guarded by the hub's mutex

private:
    std::shared_ptr<Shared> shared_;
    std::chrono::milliseconds quiet_{0};
    bool first_ = true;
};

EventHub::EventHub(std::size_t max_listeners, std::size_t max_waiting) : shared_(std::make_shared<Shared>()) {
    shared_->max_listeners = max_listeners;
    shared_->max_waiting = max_waiting;
}

EventHub::~EventHub() {
    close();
}

void EventHub::publish(std::string_view name, std::string_view data, Keep keep) {
    const Event event{std::string(name), frame(name, data)};
    const std::lock_guard lock(shared_->mutex);
    for (Listener* listener : shared_->listeners) {
        if (keep == Keep::newest) {
            std::erase_if(listener->waiting, [&](const Event& waiting) { return waiting.name == event.name; });
        }
        if (listener->waiting.size() >= shared_->max_waiting) {
            listener->waiting.clear();
            listener->waiting.push_back({"missed", frame("missed", "")});
        }
        listener->waiting.push_back(event);
    }
    shared_->changed.notify_all();
}

std::shared_ptr<TextStream> EventHub::listen() {
    auto listener = std::make_shared<Listener>(shared_);
    const std::lock_guard lock(shared_->mutex);
    if (shared_->closed || shared_->listeners.size() >= shared_->max_listeners) {
        return nullptr;
    }
    shared_->listeners.push_back(listener.get());
    return listener;
}

void EventHub::close() {
    const std::lock_guard lock(shared_->mutex);
    shared_->closed = true;
    shared_->changed.notify_all();
}

std::size_t EventHub::listeners() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->listeners.size();
}

} // namespace retap::chairside
