#include "chairside/event_hub.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <optional>
#include <string>
#include <vector>

using namespace retap::chairside;

namespace {

std::shared_ptr<TextStream> listening(EventHub& hub) {
    auto stream = hub.listen();
    REQUIRE(stream);
    CHECK(stream->next() == ": listening\n\n");
    return stream;
}

} // namespace

TEST_CASE("Every listener gets every event, in order and framed") {
    EventHub hub;
    const auto a = listening(hub);
    const auto b = listening(hub);
    hub.publish("visit", "{\"id\":1}");
    hub.publish("note", "two\nlines");
    const std::string both = "event: visit\ndata: {\"id\":1}\n\nevent: note\ndata: two\ndata: lines\n\n";
    CHECK(a->next() == both);
    CHECK(b->next() == both);
    CHECK(a->next() == "");
}

TEST_CASE("A level replaces the one that still waits") {
    EventHub hub;
    const auto stream = listening(hub);
    hub.publish("level", "1", EventHub::Keep::newest);
    hub.publish("tap", "1");
    hub.publish("level", "2", EventHub::Keep::newest);
    CHECK(stream->next() == "event: tap\ndata: 1\n\nevent: level\ndata: 2\n\n");
}

TEST_CASE("A page that reads too slowly is told that it missed something, and memory stays bounded") {
    EventHub hub(4, 3);
    const auto stream = listening(hub);
    for (int i = 0; i < 4; ++i) {
        hub.publish("n", std::to_string(i));
    }
    CHECK(stream->next() == "event: missed\ndata: \n\nevent: n\ndata: 3\n\n");
}

TEST_CASE("There are only so many listeners: one that leaves makes room, and else the oldest ends") {
    EventHub hub(2);
    auto a = listening(hub);
    const auto b = listening(hub);
    a.reset();
    CHECK(hub.listeners() == 1);
    const auto c = listening(hub);
    CHECK(hub.listeners() == 2);
    bool woken = false;
    b->on_ready([&] { woken = true; });
    const auto d = listening(hub);
    CHECK(woken);
    CHECK_FALSE(b->next());
    hub.publish("n", "1");
    CHECK(c->next() == "event: n\ndata: 1\n\n");
    CHECK(d->next() == "event: n\ndata: 1\n\n");
    CHECK(hub.listeners() == 2);
}

TEST_CASE("Who listens is told when there is something, outside of the hub's lock") {
    EventHub hub;
    const auto stream = listening(hub);
    std::vector<std::string> got;
    stream->on_ready([&] { got.push_back(*stream->next()); });
    hub.publish("n", "1");
    hub.publish("n", "2");
    CHECK(got == std::vector<std::string>{"event: n\ndata: 1\n\n", "event: n\ndata: 2\n\n"});
}

TEST_CASE("Closing ends the streams and says so, and a stream may outlive its hub") {
    auto hub = std::make_unique<EventHub>();
    const auto stream = listening(*hub);
    std::optional<std::string> last = "waiting";
    stream->on_ready([&] { last = stream->next(); });
    hub->close();
    CHECK_FALSE(last);
    CHECK(hub->listen() == nullptr);
    hub.reset();
    CHECK_FALSE(stream->next());
}
