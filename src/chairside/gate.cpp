#include "chairside/gate.hpp"

#include "chairside/doors.hpp"

#include <algorithm>
#include <charconv>
#include <utility>

namespace retap::chairside {

namespace {

/// Enough for every browser that somebody opens in a day; more would only be of use to a guesser.
constexpr std::size_t max_sessions = 32;

/// Takes the same time wherever the first difference is.
bool same_secret(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) {
        return false;
    }
    unsigned differs = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        differs |= static_cast<unsigned>(static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(b[i]));
    }
    return differs == 0;
}

HttpReply stranger() {
    return html_reply(
        "<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Retap</title></head><body>"
        "<h1>This is not your way in</h1><p>Each address opens Retap once and for a short time. Run "
        "<code>retap chairside</code> again: it opens the page, and prints a new address.</p></body></html>",
        403);
}

} // namespace

Gate::Gate(int port, std::function<bool(std::string_view)> opens, GateLimits limits)
    : host_("127.0.0.1:" + std::to_string(port)), other_host_("localhost:" + std::to_string(port)),
      cookie_name_("retap-" + std::to_string(port)), opens_(std::move(opens)), limits_(std::move(limits)) {}

std::optional<HttpReply> Gate::stops(const HttpRequest& head) {
    const std::string_view host = head.header("host");
    if (host != host_ && host != other_host_) {
        return text_reply(403, "Refused: this server answers only to its own address on this machine.\n");
    }
    if (head.path == "/open") {
        return open(head);
    }
    if (auto refusal = refuses_origin(head)) {
        return refusal;
    }
    if (!has_cookie(head)) {
        return stranger();
    }
    return refuses_length(head);
}

/// Who comes here comes from elsewhere, and shows by the token that he may.
HttpReply Gate::open(const HttpRequest& head) {
    const std::string_view mode = head.header("sec-fetch-mode");
    const bool by_a_person = (mode.empty() || mode == "navigate") && head.header("origin").empty() &&
                             head.header("sec-purpose").empty(); // what is fetched ahead is not to use the token up
    if (head.method != "GET" || !by_a_person || !opens_(head.query_value("token"))) {
        return stranger();
    }
    const std::string secret = random_token();
    {
        const std::lock_guard lock(mutex_);
        sessions_.push_back({secret, std::string(head.header("user-agent"))});
        if (sessions_.size() > max_sessions) {
            sessions_.pop_front();
        }
    }
    // To a browser that was led here by another page, a redirect goes on being that page's, and it would keep the
    // cookie to itself; a page of ours that leads on is ours.
    const std::string_view site = head.header("sec-fetch-site");
    const bool led = !site.empty() && site != "none" && site != "same-origin";
    HttpReply reply =
        led ? html_reply("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Retap</title>"
                         "<meta http-equiv=\"refresh\" content=\"0; url=/\"></head><body><a "
                         "href=\"/\">Open Retap</a></body></html>")
            : text_reply(303, "");
    if (!led) {
        reply.headers.emplace_back("Location", "/");
    }
    reply.headers.emplace_back("Set-Cookie", cookie_name_ + "=" + secret + "; HttpOnly; SameSite=Strict; Path=/");
    return reply;
}

std::optional<HttpReply> Gate::refuses_origin(const HttpRequest& head) {
    const std::string_view site = head.header("sec-fetch-site");
    if (!site.empty() && site != "same-origin" && site != "none") {
        return text_reply(403, "Refused: the request comes from another site.\n");
    }
    const std::string_view origin = head.header("origin");
    const bool reads_only = head.method == "GET" || head.method == "HEAD";
    if (origin.empty() ? !reads_only : origin != "http://" + std::string(head.header("host"))) {
        return text_reply(403, "Refused: the request does not come from Retap's own page.\n");
    }
    return std::nullopt;
}

std::optional<HttpReply> Gate::refuses_length(const HttpRequest& head) const {
    if (const std::string_view coding = head.header("content-encoding"); !coding.empty() && coding != "identity") {
        return text_reply(415, "Refused: bodies are taken as they are, not compressed.\n");
    }
    if (head.method == "GET" || head.method == "HEAD") {
        const std::string_view length = head.header("content-length");
        const bool empty = (length.empty() || length == "0") && head.header("transfer-encoding").empty();
        return empty ? std::nullopt : std::optional(text_reply(413, "Refused: nothing is to be sent here.\n"));
    }
    const std::string_view length = head.header("content-length");
    std::size_t bytes = 0;
    const auto [end, error] = std::from_chars(length.data(), length.data() + length.size(), bytes);
    if (length.empty() || error != std::errc() || end != length.data() + length.size() ||
        !head.header("transfer-encoding").empty()) {
        return text_reply(411, "Refused: the request does not say how long it is.\n");
    }
    const std::size_t most = head.path.ends_with(limits_.upload_suffix) ? limits_.upload_bytes : limits_.body_bytes;
    if (bytes > most) {
        return text_reply(413, "Refused: that is more than is accepted here.\n");
    }
    return std::nullopt;
}

bool Gate::has_cookie(const HttpRequest& head) {
    std::string_view cookies = head.header("cookie");
    while (!cookies.empty()) {
        std::string_view cookie = cookies.substr(0, cookies.find(';'));
        cookies.remove_prefix(std::min(cookies.size(), cookie.size() + 1));
        while (cookie.starts_with(' ')) {
            cookie.remove_prefix(1);
        }
        if (cookie.starts_with(cookie_name_ + "=") &&
            is_session(cookie.substr(cookie_name_.size() + 1), head.header("user-agent"))) {
            return true;
        }
    }
    return false;
}

bool Gate::is_session(std::string_view secret, std::string_view browser) {
    const std::lock_guard lock(mutex_);
    return std::any_of(sessions_.begin(), sessions_.end(), [&](const Session& session) {
        return same_secret(secret, session.secret) && browser == session.browser;
    });
}

const std::vector<std::pair<std::string, std::string>>& safe_headers() {
    static const std::vector<std::pair<std::string, std::string>> headers{
        {"Content-Security-Policy",
         "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; media-src 'self' blob:; "
         "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
        {"X-Content-Type-Options", "nosniff"},
        {"X-Frame-Options", "DENY"},
        {"Referrer-Policy", "no-referrer"},
        {"Cache-Control", "no-store"},
        {"Cross-Origin-Opener-Policy", "same-origin"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
        {"Permissions-Policy", "camera=(), geolocation=(), microphone=()"},
    };
    return headers;
}

} // namespace retap::chairside
