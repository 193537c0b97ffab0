// Live events for every page that is open, as server-sent events (HTML Living Standard, "Server-sent events").
#pragma once

#include "chairside/http_message.hpp"

#include <cstddef>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>

namespace retap::chairside {

/// Any thread publishes; each listener gets every event in order. A page that reads too slowly loses the oldest events
/// and is told so by an event named "missed", upon which it fetches everything anew.
class EventHub {
public:
    explicit EventHub(std::size_t max_listeners = 32, std::size_t max_waiting = 256);
    ~EventHub();
    EventHub(const EventHub&) = delete;
    EventHub& operator=(const EventHub&) = delete;

    /// `data` may hold newlines. `replaces`: a waiting event of the same name is replaced instead, as for a level that
    /// only matters while it is new.
    enum class Keep { each, newest };
    void publish(std::string_view name, std::string_view data, Keep keep = Keep::each);

    /// A stream for one page. When there are as many as may be, the oldest ends: of a page that is gone it is not
    /// always known, and one that is still there comes back. Nothing once the hub is closed. It leaves the hub when it
    /// is destroyed.
    [[nodiscard]] std::shared_ptr<TextStream> listen();

    /// Ends every stream.
    void close();
    [[nodiscard]] std::size_t listeners() const;

private:
    struct Shared;
    class Listener;
    std::shared_ptr<Shared> shared_; ///< outlives the hub for as long as a stream does
};

} // namespace retap::chairside
