// Who may talk to the chairside server: browsers that were opened with an address it gave out, and nobody else.
#pragma once

#include "chairside/http_message.hpp"

#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>

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
///  - bodies must say how long they are, and come as they are: compressed ones could become any length;
///  - a secret cookie (HttpOnly, SameSite=Strict) must be there. It is given to a browser that comes with a token that
///    opens (doors.hpp), and is of use to a browser of that name only.
/// Cookies are random and last until the server ends, however it ends. What this cannot do: keep out another program of
/// the same user, or a server on another port of this machine that the same browser is pointed at, since browsers send
/// cookies to every port of a host. For several threads.
class Gate {
public:
    /// `opens` says whether a token opens; it is asked once for each request that comes with one.
    Gate(int port, std::function<bool(std::string_view token)> opens, GateLimits limits = {});

    /// The reply that ends this request here: a refusal, or the way on from an opening address. Nothing: let it in.
    /// Throws DeviceError when the system gives no randomness.
    [[nodiscard]] std::optional<HttpReply> stops(const HttpRequest& head);

private:
    /// A browser that was let in.
    struct Session {
        std::string secret;
        std::string browser; ///< as it calls itself
    };
    [[nodiscard]] HttpReply open(const HttpRequest& head);
    [[nodiscard]] static std::optional<HttpReply> refuses_origin(const HttpRequest& head);
    [[nodiscard]] std::optional<HttpReply> refuses_length(const HttpRequest& head) const;
    [[nodiscard]] bool has_cookie(const HttpRequest& head);
    [[nodiscard]] bool is_session(std::string_view secret, std::string_view browser);

    std::string host_;
    std::string other_host_; ///< the same by the name localhost
    std::string cookie_name_;
    std::function<bool(std::string_view)> opens_;
    GateLimits limits_;
    std::mutex mutex_;
    std::deque<Session> sessions_; ///< the newest last
};

/// The headers every reply carries: nothing is kept, framed, sniffed or fetched from elsewhere.
[[nodiscard]] const std::vector<std::pair<std::string, std::string>>& safe_headers();

} // namespace retap::chairside
