// Which function answers which request.
#pragma once

#include "chairside/http_message.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chairside {

/// What stood in place of the pattern's ":" parts, in order.
using PathParts = std::vector<std::string>;
using RouteHandler = std::function<HttpReply(const HttpRequest&, const PathParts&)>;

class Router {
public:
    /// `pattern` as "/api/visits/:/looks/:". Earlier routes win.
    void add(std::string_view method, std::string_view pattern, RouteHandler handler);

    /// Errors of ours become replies whose text is meant for people: 422 for input, 503 for store and device trouble.
    /// 404 and 405 when there is no such route. Other exceptions pass through. HEAD is answered as GET.
    [[nodiscard]] HttpReply answer(const HttpRequest& request) const;

private:
    struct Route {
        std::string method;
        std::vector<std::string> pattern;
        RouteHandler handler;
    };
    std::vector<Route> routes_;
};

} // namespace retap::chairside
