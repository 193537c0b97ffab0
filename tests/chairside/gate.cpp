#include "chairside/gate.hpp"

#include <doctest/doctest.h>

using namespace retap::chairside;

namespace {

std::string token_of(const Gate& gate) {
    const std::string address = gate.opening_address();
    return address.substr(address.find("token=") + 6);
}

/// What a page that came in by the opening address sends.
HttpRequest good(const Gate& gate, std::string method = "GET", std::string path = "/api/visits") {
    HttpRequest open;
    open.method = "GET";
    open.path = "/open";
    open.query["token"] = token_of(gate);
    open.headers["host"] = "127.0.0.1:4711";
    std::string cookie;
    const auto reply = gate.stops(open);
    for (const auto& [name, value] : reply->headers) {
        cookie = name == "Set-Cookie" ? value.substr(0, value.find(';')) : cookie;
    }
    HttpRequest request;
    request.method = std::move(method);
    request.path = std::move(path);
    request.headers = {{"host", "127.0.0.1:4711"}, {"cookie", cookie}, {"sec-fetch-site", "same-origin"}};
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
    const Gate gate(4711);
    HttpRequest open;
    open.method = "GET";
    open.path = "/open";
    open.query["token"] = token_of(gate);
    open.headers["host"] = "127.0.0.1:4711";
    const auto reply = gate.stops(open);
    REQUIRE(reply);
    CHECK(reply->status == 303);
    CHECK(reply->headers[0].second == "/");
    CHECK(reply->headers[1].second.find("; HttpOnly; SameSite=Strict; Path=/") != std::string::npos);
    CHECK(reply->headers[1].second.find(token_of(gate)) == std::string::npos);
}

TEST_CASE("A page with the cookie may read and change") {
    const Gate gate(4711);
    CHECK(status(gate.stops(good(gate))) == 0);
    CHECK(status(gate.stops(good(gate, "POST"))) == 0);
}

TEST_CASE("A request by the name localhost passes when its origin says the same") {
    const Gate gate(4711);
    HttpRequest request = good(gate, "POST");
    request.headers["host"] = "localhost:4711";
    CHECK(status(gate.stops(request)) == 403);
    request.headers["origin"] = "http://localhost:4711";
    CHECK(status(gate.stops(request)) == 0);
}

TEST_CASE("A wrong, short, empty or missing token opens nothing") {
    const Gate gate(4711);
    for (const std::string& token :
         {std::string(), std::string("0"), std::string(32, '0'), token_of(gate).substr(1), token_of(gate) + "0"}) {
        HttpRequest open;
        open.method = "GET";
        open.path = "/open";
        open.query["token"] = token;
        open.headers["host"] = "127.0.0.1:4711";
        CHECK(status(gate.stops(open)) == 403);
    }
}

TEST_CASE("Nothing is served without the cookie, with another's, or with one that only begins right") {
    const Gate gate(4711);
    const Gate other(4711);
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
    const Gate gate(4711);
    for (const char* host : {"", "example.org", "127.0.0.1", "127.0.0.1:4712", "127.0.0.1:4711, example.org",
                             "example.org:4711", "127.0.0.1:4711.example.org"}) {
        HttpRequest request = good(gate);
        request.headers["host"] = host;
        CAPTURE(host);
        CHECK(status(gate.stops(request)) == 403);
    }
}

TEST_CASE("A foreign Origin is refused, and a change without an Origin too") {
    const Gate gate(4711);
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
    const Gate gate(4711);
    for (const char* site : {"cross-site", "same-site"}) {
        HttpRequest request = good(gate);
        request.headers["sec-fetch-site"] = site;
        CHECK(status(gate.stops(request)) == 403);
    }
}

TEST_CASE("Bodies must say their length and keep to it; sound may be longer") {
    const Gate gate(4711, {}, {.body_bytes = 100, .upload_bytes = 1000});
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

TEST_CASE("Every start has secrets of its own") {
    CHECK(Gate(4711).opening_address() != Gate(4711).opening_address());
    CHECK(token_of(Gate(4711)).size() == 32);
}

TEST_CASE("A gate with the secrets of a killed server lets its pages in, and makes new ones from anything else") {
    const Gate before(4711);
    const Gate after(4711, before.secrets());
    CHECK(status(after.stops(good(before))) == 0);
    CHECK(Gate(4711, std::string(64, 'z')).secrets() != std::string(64, 'z'));
    CHECK(Gate(4711, before.secrets() + "0").secrets() != before.secrets());
}
