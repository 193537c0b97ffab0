#include "chairside/routes.hpp"

#include "error.hpp"
#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace retap;
using namespace retap::chairside;
using report::Json;

namespace {

struct Page {
    test::TempFolder folder;
    VisitDesk desk{std::make_unique<visit::SqliteStore>(folder / "visits.db"),
                   [] { return std::chrono::system_clock::from_time_t(1936612800); }, [](visit::VisitId) {}};
    Router router;

    Page() { add_visit_routes(router, desk); }

    HttpReply send(const std::string& method, const std::string& path, const std::string& body = {},
                   const std::string& label = {}) {
        HttpRequest request{.method = method, .path = path, .query = {}, .headers = {}, .body = body};
        request.query["label"] = label;
        return router.answer(request);
    }
    Json get(const std::string& path, const std::string& label = {}) {
        return Json::parse(send("GET", path, {}, label).body);
    }
};

} // namespace

TEST_CASE("a tooth's number that no tooth has is never taken for another one") {
    Page page;
    // 4294967322 is 26 and 2 to the power of 32
    for (const char* tooth : {"4294967322", "-4294967270", "26.0", "1e300", "126", "\"26\"", "null"}) {
        CAPTURE(tooth);
        const auto body = std::string(R"({"numbering": "iso", "teeth": [)") + tooth + "]}";
        CHECK(page.send("POST", "/api/visits", body).status >= 400);
    }
    CHECK(page.get("/api/visits").at("visits").empty());
    CHECK(page.send("POST", "/api/visits", R"({"numbering": "iso", "teeth": [26]})").status == 200);
}

TEST_CASE("the page asks for the worklist, finds by label, goes on with a visit and discards one") {
    Page page;
    page.send("POST", "/api/visits", R"({"numbering": "iso", "teeth": [26]})");
    page.send("POST", "/api/visits/1/details", R"({"label": "C-1042"})");
    CHECK(page.get("/api/worklist").at("today").at(0).at("label") == "C-1042");
    CHECK(page.get("/api/visits", "1042").at("visits").size() == 1);
    CHECK(page.get("/api/visits", "1043").at("visits").empty());
    const Json second = Json::parse(page.send("POST", "/api/visits", R"({"follows": "1"})").body);
    CHECK(second.at("label") == "C-1042");
    CHECK(second.at("teeth") == Json{26});
    CHECK(second.at("earlier").at(0).at("id") == "1");
    CHECK(page.send("POST", "/api/visits/2/discard", "{}").status == 200);
    CHECK(page.get("/api/visits").at("visits").size() == 1);
    CHECK(page.send("POST", "/api/visits", R"({"follows": "2"})").status >= 400);
}
