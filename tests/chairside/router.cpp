#include "chairside/router.hpp"

#include "error.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace retap;
using namespace retap::chairside;

namespace {

Router sample() {
    Router router;
    router.add("GET", "/", [](const HttpRequest&, const PathParts&) { return text_reply(200, "root"); });
    router.add("GET", "/api/visits/:/looks/:", [](const HttpRequest&, const PathParts& parts) {
        return text_reply(200, parts.at(0) + "," + parts.at(1));
    });
    router.add("POST", "/api/visits/:", [](const HttpRequest&, const PathParts& parts) -> HttpReply {
        if (parts.at(0) == "input") {
            throw InputError("There is no such visit.");
        }
        if (parts.at(0) == "store") {
            throw StoreError("The disk is full.");
        }
        throw std::runtime_error("a fault");
    });
    return router;
}

HttpReply ask(const std::string& method, const std::string& path) {
    HttpRequest request;
    request.method = method;
    request.path = path;
    return sample().answer(request);
}

} // namespace

TEST_CASE("A path finds its route and hands over its parts") {
    CHECK(ask("GET", "/").body == "root");
    CHECK(ask("GET", "/api/visits/7/looks/after2").body == "7,after2");
    CHECK(ask("HEAD", "/api/visits/7/looks/after2").status == 200);
}

TEST_CASE("Unknown paths and methods are told apart") {
    CHECK(ask("GET", "/nowhere").status == 404);
    CHECK(ask("GET", "/api/visits/7/looks").status == 404);
    CHECK(ask("DELETE", "/api/visits/7/looks/before").status == 405);
    CHECK(ask("GET", "/../etc/passwd").status == 404);
}

TEST_CASE("Errors meant for people arrive as their text, faults pass through") {
    CHECK(ask("POST", "/api/visits/input").status == 422);
    CHECK(ask("POST", "/api/visits/input").body == "There is no such visit.");
    CHECK(ask("POST", "/api/visits/store").status == 503);
    CHECK_THROWS_AS(ask("POST", "/api/visits/fault"), std::runtime_error);
}
