#include "chairside/http_message.hpp"

#include <algorithm>
#include <charconv>

namespace retap::chairside {

namespace {

std::string_view find(const std::map<std::string, std::string, std::less<>>& values, std::string_view name) {
    const auto found = values.find(name);
    return found == values.end() ? std::string_view() : std::string_view(found->second);
}

std::string decode(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '+') {
            out += ' ';
            continue;
        }
        unsigned value = 0;
        if (text[i] == '%' && i + 2 < text.size()) {
            const char* const from = text.data() + i + 1;
            if (const auto [end, error] = std::from_chars(from, from + 2, value, 16);
                error == std::errc() && end == from + 2) {
                out += static_cast<char>(value);
                i += 2;
                continue;
            }
        }
        out += text[i];
    }
    return out;
}

} // namespace

std::string_view HttpRequest::header(std::string_view lower_case_name) const {
    return find(headers, lower_case_name);
}

std::string_view HttpRequest::query_value(std::string_view name) const {
    return find(query, name);
}

HttpReply text_reply(int status, std::string_view text) {
    HttpReply reply;
    reply.status = status;
    reply.body = text;
    return reply;
}

HttpReply json_reply(std::string json) {
    HttpReply reply;
    reply.media_type = "application/json";
    reply.body = std::move(json);
    return reply;
}

HttpReply html_reply(std::string html, int status) {
    HttpReply reply;
    reply.status = status;
    reply.media_type = "text/html; charset=utf-8";
    reply.body = std::move(html);
    return reply;
}

std::map<std::string, std::string, std::less<>> form_fields(std::string_view body) {
    std::map<std::string, std::string, std::less<>> fields;
    while (!body.empty()) {
        const std::string_view pair = body.substr(0, body.find('&'));
        body.remove_prefix(std::min(body.size(), pair.size() + 1));
        if (pair.empty()) {
            continue;
        }
        const std::size_t equals = pair.find('=');
        fields[decode(pair.substr(0, equals))] =
            equals == std::string_view::npos ? std::string() : decode(pair.substr(equals + 1));
    }
    return fields;
}

std::optional<HttpTarget> read_target(std::string_view target) {
    HttpTarget found;
    const std::string_view path = target.substr(0, target.find('?'));
    if (!path.starts_with('/')) {
        return std::nullopt;
    }
    for (std::size_t i = 0; i < path.size(); ++i) {
        char c = path[i];
        if (c == '%') {
            unsigned value = 0;
            const char* const from = path.data() + i + 1;
            if (i + 2 >= path.size() || std::from_chars(from, from + 2, value, 16).ptr != from + 2) {
                return std::nullopt;
            }
            c = static_cast<char>(value);
            i += 2;
        }
        if (c == '\0') {
            return std::nullopt;
        }
        found.path += c;
    }
    if (path.size() < target.size()) {
        found.query = form_fields(target.substr(path.size() + 1));
    }
    return found;
}

} // namespace retap::chairside
