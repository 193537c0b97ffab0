// What the page sends to change a visit: method and target in the first line, the rest is the body, and each further
// request begins after a line "--".
#include "chairside/routes.hpp"
#include "target.hpp"
#include "visit/sqlite_store.hpp"

#include <algorithm>
#include <chrono>
#include <memory>
#include <string>

namespace {

using namespace retap;
using namespace retap::chairside;

/// A store and its routes, made anew now and then: what is opened stays, and more of it only costs time.
struct Page {
    std::filesystem::path folder = fuzz::scratch() / "store";
    std::unique_ptr<VisitDesk> desk;
    Router router;

    Page() {
        std::filesystem::remove_all(folder);
        std::filesystem::create_directory(folder);
        desk = std::make_unique<VisitDesk>(
            std::make_unique<visit::SqliteStore>(folder / "visits.db"),
            [] { return std::chrono::system_clock::from_time_t(1936612800); }, [](visit::VisitId) {});
        add_visit_routes(router, *desk);
        desk->open({chart::Tooth::from_number(16, chart::Numbering::iso).value()}, chart::Numbering::iso);
    }
};

} // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    constexpr int runs_of_a_store = 50;
    static int runs = 0;
    static std::unique_ptr<Page> page;
    if (runs++ % runs_of_a_store == 0) {
        page = nullptr;
        page = std::make_unique<Page>();
    }
    std::string_view rest = fuzz::text_of(data, size);
    constexpr int most_requests = 20; // more only cost time
    for (int i = 0; i < most_requests && !rest.empty(); ++i) {
        constexpr std::string_view between = "\n--\n";
        const std::size_t end = std::min(rest.find(between), rest.size());
        std::string_view one = rest.substr(0, end);
        rest.remove_prefix(std::min(end + between.size(), rest.size()));
        const std::string_view first = fuzz::line_of(one);
        const std::size_t space = std::min(first.find(' '), first.size());
        const auto target = read_target(first.substr(std::min(space + 1, first.size())));
        if (!target) {
            continue;
        }
        HttpRequest request;
        request.method = first.substr(0, space);
        request.path = target->path;
        request.query = target->query;
        request.body = one;
        const HttpReply reply = page->router.answer(request); // what it throws is a fault
        fuzz::must(reply.status == 200 || (reply.status >= 400 && reply.status < 500), "it is done, or refused");
    }
    HttpRequest list;
    list.method = "GET";
    list.path = "/api/visits";
    fuzz::must(page->router.answer(list).status == 200, "the list is still there");
    return 0;
}
