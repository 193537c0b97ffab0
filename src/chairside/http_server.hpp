// The only file pair that knows the HTTP library.
#pragma once

#include "chairside/http_message.hpp"

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>

namespace retap::chairside {

/// What the server asks. Both are called from several threads at once.
struct HttpHandlers {
    /// By the head alone, before a body is read; a reply ends the request.
    std::function<std::optional<HttpReply>(const HttpRequest&)> gate;
    /// The whole request. An exception becomes a 500 whose text tells nothing.
    std::function<HttpReply(const HttpRequest&)> answer;
};

/// Listens on 127.0.0.1 only. Each connection serves one request, so that nothing of a refused body can be taken for a
/// second one. At most max_threads requests are worked on at a time; streams hold one thread each.
class HttpServer {
public:
    /// Binds at once. Port 0: any free one. Throws DeviceError when the port cannot be had.
    explicit HttpServer(int port, std::size_t max_body_bytes = std::size_t{256} << 20U, std::size_t max_threads = 24);
    ~HttpServer();
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;

    [[nodiscard]] int port() const;
    /// Serves in threads of its own until stop().
    void start(HttpHandlers handlers);
    /// Ends streams at their next piece and returns when every thread has ended. Harmless when not started, or twice.
    void stop();

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::chairside
