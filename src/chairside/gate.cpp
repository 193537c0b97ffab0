#include "chairside/gate.hpp"

#include "error.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <unistd.h>

namespace retap::chairside {

namespace {

std::string random_hex() {
    std::array<std::uint8_t, 16> bytes{};
    if (getentropy(bytes.data(), bytes.size()) != 0) {
        throw DeviceError(
            "Starting the chairside server: the system gives no random numbers, so it cannot be kept safe.");
    }
    static constexpr std::string_view digits = "0123456789abcdef";
    std::string hex;
    for (const std::uint8_t byte : bytes) {
        hex += digits[byte >> 4U];
        hex += digits[byte & 15U];
    }
    return hex;
}

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
    return html_reply("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Retap</title></head><body>"
                      "<h1>This is not your way in</h1><p>Open Retap with the full address that <code>retap "
                      "chairside</code> printed when it started.</p></body></html>",
                      403);
}

} // namespace

Gate::Gate(int port, std::string_view secrets, GateLimits limits)
    : host_("127.0.0.1:" + std::to_string(port)), other_host_("localhost:" + std::to_string(port)),
      cookie_name_("retap-" + std::to_string(port)), limits_(std::move(limits)) {
    const bool known = secrets.size() == 64 && secrets.find_first_not_of("0123456789abcdef") == std::string_view::npos;
    token_ = known ? std::string(secrets.substr(0, 32)) : random_hex();
    session_ = known ? std::string(secrets.substr(32)) : random_hex();
}

std::string Gate::opening_address() const {
    return "http://" + host_ + "/open?token=" + token_;
}

std::optional<HttpReply> Gate::stops(const HttpRequest& head) const {
    const std::string_view host = head.header("host");
    if (host != host_ && host != other_host_) {
        return text_reply(403, "Refused: this server answers only to its own address on this machine.\n");
    }
    if (auto refusal = refuses_origin(head)) {
        return refusal;
    }
    if (head.path == "/open") {
        if (head.method != "GET" || !same_secret(head.query_value("token"), token_)) {
            return stranger();
        }
        HttpReply reply = text_reply(303, "");
        reply.headers = {{"Location", "/"},
                         {"Set-Cookie", cookie_name_ + "=" + session_ + "; HttpOnly; SameSite=Strict; Path=/"}};
        return reply;
    }
    if (!has_cookie(head.header("cookie"))) {
        return stranger();
    }
    return refuses_length(head);
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

bool Gate::has_cookie(std::string_view cookies) const {
    while (!cookies.empty()) {
        std::string_view cookie = cookies.substr(0, cookies.find(';'));
        cookies.remove_prefix(std::min(cookies.size(), cookie.size() + 1));
        while (cookie.starts_with(' ')) {
            cookie.remove_prefix(1);
        }
        if (cookie.starts_with(cookie_name_ + "=") && same_secret(cookie.substr(cookie_name_.size() + 1), session_)) {
            return true;
        }
    }
    return false;
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
