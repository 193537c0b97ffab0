#include "chairside/router.hpp"

#include "error.hpp"

#include <optional>

namespace retap::chairside {

namespace {

std::vector<std::string> split(std::string_view path) {
    std::vector<std::string> parts;
    while (!path.empty()) {
        path.remove_prefix(path.front() == '/' ? 1 : 0);
        const std::size_t end = path.find('/');
        parts.emplace_back(path.substr(0, end));
        path.remove_prefix(end == std::string_view::npos ? path.size() : end);
    }
    return parts;
}

std::optional<PathParts> match(const std::vector<std::string>& pattern, const std::vector<std::string>& path) {
    if (pattern.size() != path.size()) {
        return std::nullopt;
    }
    PathParts parts;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
        if (pattern[i] == ":") {
            parts.push_back(path[i]);
        } else if (pattern[i] != path[i]) {
            return std::nullopt;
        }
    }
    return parts;
}

HttpReply guarded(const RouteHandler& handler, const HttpRequest& request, const PathParts& parts) {
    try {
        return handler(request, parts);
    } catch (const InputError& error) {
        return text_reply(422, error.what());
    } catch (const UsageError& error) {
        return text_reply(422, error.what());
    } catch (const Error& error) {
        return text_reply(503, error.what());
    }
}

} // namespace

void Router::add(std::string_view method, std::string_view pattern, RouteHandler handler) {
    routes_.push_back({std::string(method), split(pattern), std::move(handler)});
}

HttpReply Router::answer(const HttpRequest& request) const {
    const std::vector<std::string> path = split(request.path);
    const std::string_view method = request.method == "HEAD" ? "GET" : std::string_view(request.method);
    bool path_known = false;
    for (const Route& route : routes_) {
        const auto parts = match(route.pattern, path);
        if (!parts) {
            continue;
        }
        path_known = true;
        if (route.method == method) {
            return guarded(route.handler, request, *parts);
        }
    }
    return path_known ? text_reply(405, "This cannot be done here.") : text_reply(404, "There is nothing here.");
}

} // namespace retap::chairside
