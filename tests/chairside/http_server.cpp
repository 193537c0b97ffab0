#include "chairside/http_server.hpp"

#include "chairside/event_hub.hpp"
#include "chairside/gate.hpp"
#include "error.hpp"
#include "plain_client.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <stdexcept>
#include <thread>
#include <vector>

using namespace retap;
using namespace retap::chairside;
using test::body_of;
using test::exchange;
using test::header_of;
using test::status_of;

namespace {

struct Running {
    HttpServer server;
    Gate gate{server.port(),
              [](std::string_view token) { return token == "open-sesame"; },
              {.body_bytes = 1000, .upload_bytes = 5000}};
    EventHub hub;
    std::atomic<int> answered{0};

    explicit Running(const HttpLimits& limits = {}) : server(0, limits) {
        server.start({[this](const HttpRequest& head) { return gate.stops(head); },
                      [this](const HttpRequest& request) {
                          ++answered;
                          if (request.path == "/events") {
                              HttpReply reply;
                              reply.media_type = "text/event-stream";
                              reply.stream = hub.listen();
                              return reply;
                          }
                          if (request.path == "/fault") {
                              throw std::runtime_error("secret detail");
                          }
                          return text_reply(200, request.method + " " + request.path + " " + request.body);
                      }});
    }
    ~Running() {
        hub.close();
        server.stop();
    }
    Running(const Running&) = delete;
    Running& operator=(const Running&) = delete;

    [[nodiscard]] std::string host() const { return "127.0.0.1:" + std::to_string(server.port()); }
    [[nodiscard]] std::string get(const std::string& path, const std::string& headers) const {
        return exchange(server.port(), "GET " + path + " HTTP/1.1\r\nHost: " + host() + "\r\n" + headers + "\r\n");
    }
    [[nodiscard]] std::string cookie() const {
        const std::string reply = get("/open?token=open-sesame", "");
        CHECK(status_of(reply) == 303);
        const std::string cookie = header_of(reply, "Set-Cookie");
        return "Cookie: " + cookie.substr(0, cookie.find(';')) + "\r\n";
    }
    [[nodiscard]] std::string post(const std::string& path, const std::string& headers, const std::string& body) const {
        return exchange(server.port(), "POST " + path + " HTTP/1.1\r\nHost: " + host() + "\r\nOrigin: http://" +
                                           host() + "\r\n" + headers +
                                           "Content-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body);
    }
};

} // namespace

TEST_CASE("The way in by the opening address works over plain HTTP, and replies carry the safe headers") {
    const Running running;
    const std::string reply = running.get("/page", running.cookie());
    CHECK(status_of(reply) == 200);
    CHECK(body_of(reply) == "GET /page ");
    CHECK(header_of(reply, "Content-Security-Policy").starts_with("default-src 'none'; script-src 'self'"));
    CHECK(header_of(reply, "X-Content-Type-Options") == "nosniff");
    CHECK(header_of(reply, "Cache-Control") == "no-store");
    CHECK(body_of(running.post("/change", running.cookie(), "x=1")) == "POST /change x=1");
}

TEST_CASE("Strangers are refused before the program sees them") {
    const Running running;
    const std::string cookie = running.cookie();
    const std::string host = running.host();
    CHECK(status_of(running.get("/page", "")) == 403);
    CHECK(status_of(running.get("/open?token=00000000000000000000000000000000", "")) == 403);
    CHECK(status_of(running.get("/page", cookie + "Origin: http://example.org\r\n")) == 403);
    CHECK(status_of(running.get("/page", cookie + "Host: example.org\r\n")) == 403); // a second Host
    CHECK(status_of(exchange(running.server.port(), "GET /page HTTP/1.1\r\nHost: example.org\r\n" + cookie + "\r\n")) ==
          403);
    CHECK(status_of(exchange(running.server.port(), "POST /x HTTP/1.1\r\nHost: " + host + "\r\n" + cookie +
                                                        "Content-Length: 3\r\n\r\nabc")) == 403); // no Origin
    CHECK(header_of(running.get("/page", ""), "Content-Security-Policy") != "");
    CHECK(running.answered == 0);
}

TEST_CASE("Bodies that are too large, of no stated length or cut short never reach the program") {
    const Running running;
    const std::string cookie = running.cookie();
    CHECK(status_of(running.post("/x", cookie, std::string(1001, 'a'))) == 413);
    CHECK(status_of(running.post("/x/upload", cookie, std::string(1001, 'a'))) == 200);
    const std::string start =
        "POST /x HTTP/1.1\r\nHost: " + running.host() + "\r\nOrigin: http://" + running.host() + "\r\n" + cookie;
    CHECK(status_of(exchange(running.server.port(),
                             start + "Transfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n0\r\n\r\n")) == 411);
    CHECK(running.answered == 1);
}

TEST_CASE("Nothing after a refused body is taken for a second request") {
    const Running running;
    const std::string cookie = running.cookie();
    const std::string inner = "GET /inner HTTP/1.1\r\nHost: " + running.host() + "\r\n" + cookie + "\r\n";
    const std::string reply = running.post("/x", cookie, inner + std::string(1001, ' '));
    CHECK(status_of(reply) == 413);
    CHECK(reply.find("HTTP/1.1", 5) == std::string::npos);
    CHECK(running.answered == 0);
}

TEST_CASE("Malformed requests get an error or a closed connection, and the server goes on") {
    const Running running;
    const std::string cookie = running.cookie();
    for (const std::string& nonsense :
         {std::string("\r\n\r\n"), std::string("GET\r\n\r\n"), std::string(9000, 'A') + "\r\n\r\n",
          std::string("GET /\x01 HTTP/9.9\r\n\r\n"), std::string("\x16\x03\x01\x02\r\n\r\n")}) {
        const std::string reply = exchange(running.server.port(), nonsense);
        CHECK((reply.empty() || status_of(reply) >= 400));
    }
    CHECK(status_of(running.get("/page", cookie)) == 200);
}

TEST_CASE("A part of a body can be asked for, as players of sound do") {
    const Running running;
    const std::string reply = running.get("/page", running.cookie() + "Range: bytes=4-8\r\n");
    CHECK(status_of(reply) == 206);
    CHECK(header_of(reply, "Content-Range") == "bytes 4-8/10");
    CHECK(body_of(reply) == "/page");
}

TEST_CASE("Several ranges at once, and what is no range, give the whole; a range beyond the end gives nothing") {
    const Running running;
    const std::string cookie = running.cookie();
    std::string many = "Range: bytes=0-";
    for (int i = 0; i < 800; ++i) {
        many += ",0-";
    }
    for (const std::string& range :
         {many, std::string("Range: bytes=0-3,4-8"), std::string("Range: bytes=8-4"), std::string("Range: bytes=-"),
          std::string("Range: lines=1-2"), std::string("Range: bytes=99999999999999999999999-")}) {
        const std::string reply = running.get("/page", cookie + range + "\r\n");
        CAPTURE(range);
        CHECK(status_of(reply) == 200);
        CHECK(body_of(reply) == "GET /page ");
    }
    const std::string beyond = running.get("/page", cookie + "Range: bytes=10-\r\n");
    CHECK(status_of(beyond) == 416);
    CHECK(header_of(beyond, "Content-Range") == "bytes */10");
    CHECK(body_of(running.get("/page", cookie + "Range: bytes=-5\r\n")) == "page ");
}

TEST_CASE("A head has an end: a line or a number of headers beyond the limit is refused") {
    const Running running;
    const std::string cookie = running.cookie();
    const std::string start = "GET /page HTTP/1.1\r\nHost: " + running.host() + "\r\n" + cookie;
    std::string headers;
    for (int i = 0; i < 200000; ++i) {
        headers += "a: b\r\n";
    }
    for (const std::string& request :
         {start + "X: " + std::string(1000000, 'x'), start + headers + "\r\n",
          "GET /" + std::string(1000000, 'p') + " HTTP/1.1\r\n\r\n", std::string(1000000, 'G')}) {
        std::string reply;
        try {
            reply = exchange(running.server.port(), request);
        } catch (const std::runtime_error&) { // cut off without a word, which is as good
        }
        CHECK((reply.empty() || status_of(reply) >= 400));
    }
    CHECK(running.answered == 0);
    CHECK(status_of(running.get("/page", cookie)) == 200);
}

TEST_CASE("A compressed body is refused, and so is a body where none belongs") {
    const Running running;
    const std::string cookie = running.cookie();
    CHECK(status_of(running.post("/x", cookie + "Content-Encoding: gzip\r\n", "abc")) == 415);
    CHECK(status_of(running.get("/page", cookie + "Content-Length: 3\r\n")) == 413);
    CHECK(running.answered == 0);
}

TEST_CASE("An address with broken escapes, a zero byte or no path is refused") {
    const Running running;
    const std::string cookie = running.cookie();
    for (const char* path : {"/%", "/%E", "/%zz", "/page%00", "page", "http://127.0.0.1/page"}) {
        CAPTURE(path);
        CHECK(status_of(running.get(path, cookie)) == 400);
    }
    CHECK(body_of(running.get("/p%61ge+%E0", cookie)) == "GET /page+\xE0 ");
    CHECK(running.answered == 1);
}

TEST_CASE("A crowd that says nothing, says it slowly or wants events without a cookie does not keep the page out") {
    Running running;
    const std::string cookie = running.cookie();
    std::vector<test::OpenSocket> crowd;
    constexpr std::size_t of_each = 150; // thrice that is more than the server lets wait
    for (std::size_t i = 0; i < of_each; ++i) {
        crowd.emplace_back(running.server.port());
        crowd.emplace_back(running.server.port()).send("GET /page HTTP/1.1\r\nX: ");
        crowd.emplace_back(running.server.port()).send("GET /events HTTP/1.1\r\nHost: " + running.host() + "\r\n\r\n");
        if (i % 10 == 0) {
            for (std::size_t slow = 1; slow < crowd.size(); slow += 3) {
                crowd[slow].send("x");
            }
            CHECK(status_of(running.get("/page", cookie)) == 200);
        }
    }
    CHECK(status_of(running.get("/page", cookie)) == 200);
}

TEST_CASE("Who does not say who he is, or not to the end, is cut off after a while") {
    const Running running({.head_time = std::chrono::milliseconds(100)});
    for (const char* said : {"", "GET /page HTTP/1.1\r\nX: "}) {
        test::OpenSocket silent(running.server.port());
        silent.send(said);
        CHECK(silent.rest().find("200 OK") == std::string::npos); // returns because the server closes
    }
}

TEST_CASE("Pages that are opened or loaded again many times find room for their events; the oldest end") {
    Running running;
    const std::string cookie = running.cookie();
    std::vector<test::OpenSocket> pages;
    constexpr std::size_t many = 100;
    for (std::size_t i = 0; i < many; ++i) {
        auto& page = pages.emplace_back(running.server.port());
        page.send("GET /events HTTP/1.1\r\nHost: " + running.host() + "\r\n" + cookie + "\r\n");
        CHECK(status_of(page.until("listening")) == 200);
    }
    CHECK(running.hub.listeners() <= many / 2);
    CHECK(pages.front().rest().find("still here") == std::string::npos); // ended
    running.hub.publish("tap", "newest");
    CHECK(pages.back().until("newest").find("data: newest") != std::string::npos);
}

TEST_CASE("A fault inside tells the outside nothing") {
    const Running running;
    const std::string reply = running.get("/fault", running.cookie());
    CHECK(status_of(reply) == 500);
    CHECK(reply.find("secret detail") == std::string::npos);
}

TEST_CASE("Events reach a page as they happen") {
    Running running;
    const std::string cookie = running.cookie();
    std::string reply;
    std::thread page([&] {
        reply = exchange(running.server.port(),
                         "GET /events HTTP/1.1\r\nHost: " + running.host() + "\r\n" + cookie + "\r\n", "tap-1");
    });
    while (running.hub.listeners() == 0) {
        std::this_thread::yield();
    }
    running.hub.publish("tap", "tap-1");
    page.join();
    CHECK(header_of(reply, "Content-Type") == "text/event-stream");
    CHECK(reply.find("event: tap\ndata: tap-1\n\n") != std::string::npos);
}

TEST_CASE("Stopping ends open streams and frees the port") {
    int port = 0;
    {
        const Running running;
        port = running.server.port();
        std::thread page([&] {
            (void)exchange(port, "GET /events HTTP/1.1\r\nHost: " + running.host() + "\r\n" + running.cookie() + "\r\n",
                           "listening");
        });
        page.join();
    }
    CHECK(HttpServer{port}.port() == port);
}

TEST_CASE("A port that is taken is an error that says so") {
    const HttpServer first(0);
    CHECK_THROWS_WITH_AS(HttpServer(first.port()), doctest::Contains("cannot be used"), DeviceError);
}
