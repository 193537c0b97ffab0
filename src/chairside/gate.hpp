// Who may talk to the chairside server: the browser that was opened with the address it printed, and nobody else.
#pragma once

#include "chairside/http_message.hpp"

#include <cstddef>
#include <optional>
#include <string>

namespace retap::chairside {

/// How large a body may be. Uploads of sound are let through on their own paths.
struct GateLimits {
    std::size_t body_bytes = std::size_t{64} << 10U;
    std::size_t upload_bytes = std::size_t{256} << 20U;
    std::string upload_suffix = "/upload"; ///< paths that end so take sound files
};

/// Decides by the head of a request, before its body is read. The server listens on loopback only, but web pages and
/// other users of the machine can reach loopback too:
///  - Host must be ours, so that a name somebody points at 127.0.0.1 is of no use (DNS rebinding);
///  - Origin must be ours when given, and must be given for everything that changes something (cross-site requests);
///  - a request that a browser calls cross-site is refused;
///  - a secret cookie (HttpOnly, SameSite=Strict) must be there. It is set by the opening address, which holds a token.
/// Both secrets are 128 random bits from the operating system and last until the server ends as it should. What this
/// cannot do: keep out another program of the same user, or a server on another port of this machine that the same
/// browser is pointed at, since browsers send cookies to every port of a host.
class Gate {
public:
    /// `secrets` of an earlier gate lets pages of a server that was killed go on with this one; anything that is not of
    /// that form gives new ones. Throws DeviceError when the system gives no randomness.
    explicit Gate(int port, std::string_view secrets = {}, GateLimits limits = {});

    /// Both secrets as text. Whoever has it may talk to the server: for private files only.
    [[nodiscard]] std::string secrets() const { return token_ + session_; }

    /// The reply that ends this request here: a refusal, or the redirect of the opening address. Nothing: let it in.
    [[nodiscard]] std::optional<HttpReply> stops(const HttpRequest& head) const;

    /// "http://127.0.0.1:PORT/open?token=..."
    [[nodiscard]] std::string opening_address() const;

private:
    [[nodiscard]] static std::optional<HttpReply> refuses_origin(const HttpRequest& head);
    [[nodiscard]] std::optional<HttpReply> refuses_length(const HttpRequest& head) const;
    [[nodiscard]] bool has_cookie(std::string_view cookies) const;

    std::string host_;
    std::string other_host_; ///< the same by the name localhost
    std::string cookie_name_;
    std::string token_;
    std::string session_;
    GateLimits limits_;
};

/// The headers every reply carries: nothing is kept, framed, sniffed or fetched from elsewhere.
[[nodiscard]] const std::vector<std::pair<std::string, std::string>>& safe_headers();

} // namespace retap::chairside
