// The only file pair that knows the HTTP library.
#pragma once

#include "chairside/http_message.hpp"

#include <chrono>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>

namespace retap::chairside {

/// What the server asks. Both are called from several threads at once.
struct HttpHandlers {
    /// By the head alone, before a body is read; a reply ends the request. Must be quick: everything waits for it.
    std::function<std::optional<HttpReply>(const HttpRequest&)> gate;
    /// The whole request. An exception becomes a 500 whose text tells nothing.
    std::function<HttpReply(const HttpRequest&)> answer;
};

/// What is spent on whom. The largest number of open files that systems usually give a program is 1024.
struct HttpLimits {
    std::size_t body_bytes = std::size_t{256} << 20U;   ///< of one request
    std::size_t bodies_bytes = std::size_t{512} << 20U; ///< of all requests that are being received
    std::size_t head_bytes = std::size_t{16} << 10U;    ///< request line and headers, and what is kept of them
    std::size_t strangers = 400;                        ///< connections that the gate has not let in (yet)
    std::size_t connections = 700;                      ///< of all kinds
    std::chrono::milliseconds head_time{5000};          ///< from connecting until the gate lets in
    std::chrono::seconds idle_time{20};                 ///< without a byte, while a body comes or a reply goes
    std::size_t threads = 8;                            ///< that answer
    std::size_t waiting_requests = 200;                 ///< for one of them
};

/// Listens on 127.0.0.1 only. Each connection serves one request, so that nothing of a refused body can be taken for a
/// second one. One thread reads and writes for all connections; streams hold no thread. Bodies come as they are: what
/// is compressed is refused by the gate. Of a reply one range can be asked for.
class HttpServer {
public:
    /// Binds at once. Port 0: any free one. Throws DeviceError when the port cannot be had.
    explicit HttpServer(int port, HttpLimits limits = {});
    ~HttpServer();
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;

    [[nodiscard]] int port() const;
    /// Serves in threads of its own until stop(). Throws DeviceError when the system gives no threads.
    void start(HttpHandlers handlers);
    /// Ends streams and returns when every thread has ended. Harmless when not started, or twice.
    void stop();

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::chairside
