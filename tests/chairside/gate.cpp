#include "chairside/gate.hpp"

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <utility>

using namespace retap::chairside;

namespace {

/// A gate whose doors open with this, as often as one comes.
constexpr std::string_view token = "00112233445566778899aabbccddeeff";

struct TestGate : Gate {
    explicit TestGate(GateLimits limits = {})
        : Gate(
              4711, [](std::string_view shown) { return shown == token; }, std::move(limits)) {}
};

HttpRequest opening(std::string shown = std::string(token)) {
    HttpRequest open;
    open.method = "GET";
    open.path = "/open";
    open.query["token"] = std::move(shown);
    open.headers = {{"host", "127.0.0.1:4711"}, {"user-agent", "Test"}};
    return open;
}

std::string reply_header(const HttpReply& reply, std::string_view wanted) {
    for (const auto& [name, value] : reply.headers) {
        if (name == wanted) {
            return value;
        }
    }
    return {};
}

/// What a page that came in by the opening address sends.
HttpRequest good(Gate& gate, std::string method = "GET", std::string path = "/api/visits") {
    const std::string cookie = reply_header(*gate.stops(opening()), "Set-Cookie");
    HttpRequest request;
    request.method = std::move(method);
    request.path = std::move(path);
    request.headers = {{"host", "127.0.0.1:4711"},
                       {"cookie", cookie.substr(0, cookie.find(';'))},
                       {"user-agent", "Test"},
                       {"sec-fetch-site", "same-origin"}};
    if (request.method != "GET") {
        request.headers["origin"] = "http://127.0.0.1:4711";
        request.headers["content-length"] = "10";
    }
    return request;
}

int status(const std::optional<HttpReply>& reply) {
    return reply ? reply->status : 0;
}

} // namespace

TEST_CASE("The opening address sets a cookie that scripts and other sites cannot use, and leads to the page") {
    TestGate gate;
    const auto reply = gate.stops(opening());
    REQUIRE(reply);
    CHECK(reply->status == 303);
    CHECK(reply_header(*reply, "Location") == "/");
    CHECK(reply_header(*reply, "Set-Cookie").find("; HttpOnly; SameSite=Strict; Path=/") != std::string::npos);
    CHECK(reply_header(*reply, "Set-Cookie").find(token) == std::string::npos);
}

TEST_CASE("A browser that is led here by a page gets one that leads on, since it keeps strict cookies from redirects") {
    TestGate gate;
    HttpRequest open = opening();
    open.headers["sec-fetch-site"] = "cross-site";
    open.headers["sec-fetch-mode"] = "navigate";
    const auto reply = gate.stops(open);
    REQUIRE(reply);
    CHECK(reply->status == 200);
    CHECK(reply->body.find("content=\"0; url=/\"") != std::string::npos);
    CHECK(reply_header(*reply, "Set-Cookie") != "");
}

TEST_CASE("A script, another site's form and what is fetched ahead open nothing and use no token up") {
    int asked = 0;
    Gate gate(4711, [&](std::string_view) { return ++asked > 0; });
    for (const auto& [name, value] :
         {std::pair("sec-fetch-mode", "cors"), std::pair("origin", "null"), std::pair("sec-purpose", "prefetch")}) {
        HttpRequest open = opening();
        open.headers[name] = value;
        CHECK(status(gate.stops(open)) == 403);
    }
    HttpRequest post = opening();
    post.method = "POST";
    CHECK(status(gate.stops(post)) == 403);
    CHECK(asked == 0);
}

TEST_CASE("A page with the cookie may read and change") {
    TestGate gate;
    CHECK(status(gate.stops(good(gate))) == 0);
    CHECK(status(gate.stops(good(gate, "POST"))) == 0);
}

TEST_CASE("A request by the name localhost passes when its origin says the same") {
    TestGate gate;
    HttpRequest request = good(gate, "POST");
    request.headers["host"] = "localhost:4711";
    CHECK(status(gate.stops(request)) == 403);
    request.headers["origin"] = "http://localhost:4711";
    CHECK(status(gate.stops(request)) == 0);
}

TEST_CASE("A wrong or missing token opens nothing") {
    TestGate gate;
    for (const std::string& shown : {std::string(), std::string("0"), std::string(32, '0')}) {
        CHECK(status(gate.stops(opening(shown))) == 403);
    }
}

TEST_CASE("A cookie is of use to the browser it was given to, and to no other") {
    TestGate gate;
    HttpRequest request = good(gate);
    CHECK(status(gate.stops(request)) == 0);
    request.headers["user-agent"] = "Another";
    CHECK(status(gate.stops(request)) == 403);
    request.headers.erase("user-agent");
    CHECK(status(gate.stops(request)) == 403);
}

TEST_CASE("Two browsers may be open at once, each with a cookie of its own") {
    TestGate gate;
    const HttpRequest one = good(gate);
    const HttpRequest other = good(gate);
    CHECK(one.header("cookie") != other.header("cookie"));
    CHECK(status(gate.stops(one)) == 0);
    CHECK(status(gate.stops(other)) == 0);
}

TEST_CASE("Nothing is served without the cookie, with another's, or with one that only begins right") {
    TestGate gate;
    TestGate other;
    HttpRequest request = good(gate);
    const std::string cookie = request.headers["cookie"];
    for (const std::string& bad : {std::string(), cookie.substr(0, cookie.size() - 1), cookie + "0",
                                   good(other).headers["cookie"], "x" + cookie}) {
        request.headers["cookie"] = bad;
        CHECK(status(gate.stops(request)) == 403);
    }
    request.headers["cookie"] = "theme=dark; " + cookie;
    CHECK(status(gate.stops(request)) == 0);
}

TEST_CASE("A foreign, missing or doubled Host is refused, also with the cookie") {
    TestGate gate;
    for (const char* host : {"", "example.org", "127.0.0.1", "127.0.0.1:4712", "127.0.0.1:4711, example.org",
                             "example.org:4711", "127.0.0.1:4711.example.org"}) {
        HttpRequest request = good(gate);
        request.headers["host"] = host;
        CAPTURE(host);
        CHECK(status(gate.stops(request)) == 403);
    }
}

TEST_CASE("A foreign Origin is refused, and a change without an Origin too") {
    TestGate gate;
    for (const char* origin : {"", "null", "http://example.org", "https://127.0.0.1:4711", "http://127.0.0.1:4712",
                               "http://localhost:4711"}) {
        HttpRequest request = good(gate, "POST");
        request.headers["origin"] = origin;
        CAPTURE(origin);
        CHECK(status(gate.stops(request)) == 403);
    }
    HttpRequest reading = good(gate);
    reading.headers["origin"] = "http://example.org";
    CHECK(status(gate.stops(reading)) == 403);
}

TEST_CASE("What a browser calls cross-site is refused, even a port next door") {
    TestGate gate;
    for (const char* site : {"cross-site", "same-site"}) {
        HttpRequest request = good(gate);
        request.headers["sec-fetch-site"] = site;
        CHECK(status(gate.stops(request)) == 403);
    }
}

TEST_CASE("Bodies must say their length and keep to it; sound may be longer") {
    TestGate gate({.body_bytes = 100, .upload_bytes = 1000});
    HttpRequest request = good(gate, "POST");
    const auto with_length = [&](const char* length) {
        request.headers["content-length"] = length;
        return status(gate.stops(request));
    };
    CHECK(with_length("100") == 0);
    CHECK(with_length("101") == 413);
    CHECK(with_length("99999999999999999999999999") == 411);
    CHECK(with_length("-1") == 411);
    CHECK(with_length("10, 10") == 411);
    CHECK(with_length("") == 411);
    request.headers["transfer-encoding"] = "chunked";
    CHECK(with_length("10") == 411);
    HttpRequest upload = good(gate, "POST", "/api/takes/upload");
    upload.headers["content-length"] = "1000";
    CHECK(status(gate.stops(upload)) == 0);
    upload.headers["content-length"] = "1001";
    CHECK(status(gate.stops(upload)) == 413);
}

TEST_CASE("A compressed body is refused, and any body where none belongs") {
    TestGate gate;
    HttpRequest request = good(gate, "POST");
    request.headers["content-encoding"] = "gzip";
    CHECK(status(gate.stops(request)) == 415);
    request.headers["content-encoding"] = "identity";
    CHECK(status(gate.stops(request)) == 0);
    HttpRequest reading = good(gate);
    reading.headers["content-length"] = "0";
    CHECK(status(gate.stops(reading)) == 0);
    reading.headers["content-length"] = "1";
    CHECK(status(gate.stops(reading)) == 413);
    reading.headers["content-length"] = "0";
    reading.headers["transfer-encoding"] = "chunked";
    CHECK(status(gate.stops(reading)) == 413);
}
