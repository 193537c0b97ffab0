#include "chairside/event_hub.hpp"

#include <doctest/doctest.h>

#include <thread>
#include <vector>

using namespace retap::chairside;
using namespace std::chrono_literals;

namespace {

std::shared_ptr<TextStream> listening(EventHub& hub) {
    auto stream = hub.listen();
    REQUIRE(stream);
    CHECK(stream->next(0ms) == ": listening\n\n");
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
    CHECK(a->next(0ms) == both);
    CHECK(b->next(0ms) == both);
    CHECK(a->next(0ms) == "");
}

TEST_CASE("A level replaces the one that still waits") {
    EventHub hub;
    const auto stream = listening(hub);
    hub.publish("level", "1", EventHub::Keep::newest);
    hub.publish("tap", "1");
    hub.publish("level", "2", EventHub::Keep::newest);
    CHECK(stream->next(0ms) == "event: tap\ndata: 1\n\nevent: level\ndata: 2\n\n");
}

TEST_CASE("A page that reads too slowly is told that it missed something, and memory stays bounded") {
    EventHub hub(4, 3);
    const auto stream = listening(hub);
    for (int i = 0; i < 4; ++i) {
        hub.publish("n", std::to_string(i));
    }
    CHECK(stream->next(0ms) == "event: missed\ndata: \n\nevent: n\ndata: 3\n\n");
}

TEST_CASE("There are only so many listeners, and one that leaves makes room") {
    EventHub hub(2);
    auto a = hub.listen();
    const auto b = hub.listen();
    CHECK(hub.listen() == nullptr);
    a.reset();
    CHECK(hub.listeners() == 1);
    CHECK(hub.listen() != nullptr);
}

TEST_CASE("Closing ends the streams, also those that wait, and a stream may outlive its hub") {
    auto hub = std::make_unique<EventHub>();
    const auto stream = listening(*hub);
    std::optional<std::string> last = "waiting";
    std::thread reader([&] { last = stream->next(10s); });
    hub->close();
    reader.join();
    CHECK_FALSE(last);
    CHECK(hub->listen() == nullptr);
    hub.reset();
    CHECK_FALSE(stream->next(0ms));
}
