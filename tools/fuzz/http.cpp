// A request's first line, headers and body as bytes, up to where a route would be looked for: the target, then lines of
// headers, an empty line, the body.
#include "chairside/bench_query.hpp"
#include "chairside/byte_range.hpp"
#include "chairside/gate.hpp"
#include "error.hpp"
#include "target.hpp"

#include <algorithm>
#include <string>

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace retap;
    using namespace retap::chairside;
    std::string_view rest = fuzz::text_of(data, size);
    const std::string_view first = fuzz::line_of(rest);
    const std::size_t space = std::min(first.find(' '), first.size());
    HttpRequest request;
    request.method = first.substr(0, space);
    const auto target = read_target(first.substr(std::min(space + 1, first.size())));
    for (std::string_view line = fuzz::line_of(rest); !line.empty(); line = fuzz::line_of(rest)) {
        const std::size_t colon = std::min(line.find(": "), line.size());
        request.headers[std::string(line.substr(0, colon))] = line.substr(std::min(colon + 2, line.size()));
    }
    request.body = rest;
    static_cast<void>(form_fields(request.body));
    constexpr std::size_t reply_size = 1000;
    const AskedRange asked = asked_range(request.header("range"), reply_size);
    fuzz::must(asked.part.first <= asked.part.last && asked.part.last < reply_size, "a range lies in the reply");
    if (!target) {
        return 0;
    }
    fuzz::must(target->path.starts_with('/') && target->path.find('\0') == std::string::npos, "a path is one");
    request.path = target->path;
    request.query = target->query;
    Gate gate(4711, [](std::string_view token) { return token == "open-sesame"; });
    const auto stopped = gate.stops(request);
    fuzz::must(stopped.has_value(), "nobody passes the gate without a cookie it gave");
    fuzz::must(stopped->status >= 400 || request.query_value("token") == "open-sesame",
               "only who has the token is shown the way in");
    try {
        static_cast<void>(bite_of_query(request));
        static_cast<void>(slow_motion_of_query(request));
    } catch (const InputError&) { // the answer to what the bench does not let be set
    }
    return 0;
}
