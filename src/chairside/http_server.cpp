#include "chairside/http_server.hpp"

#include "chairside/byte_range.hpp"
#include "chairside/gate.hpp"
#include "chairside/strangers.hpp"
#include "chairside/work_line.hpp"
#include "error.hpp"

#include <algorithm>
#include <atomic>
#include <cctype>
#include <charconv>
#include <condition_variable>
#include <cstring>
#include <exception>
#include <list>
#include <microhttpd.h>
#include <mutex>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <string>
#include <string_view>
#include <sys/socket.h>
#include <thread>
#include <unistd.h>
#include <utility>

namespace retap::chairside {

namespace {

constexpr std::chrono::milliseconds tick{250};

int listening_socket(int port) {
    const int socket = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    const int yes = 1;
    setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes); // a port just left, not one in use
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (socket < 0 || bind(socket, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0 ||
        listen(socket, SOMAXCONN) != 0) {
        ::close(socket);
        throw DeviceError("Starting the chairside server: port " + std::to_string(port) +
                          " cannot be used; another program may hold it. Leave --port out to take any free one.");
    }
    return socket;
}

int port_of(int socket) {
    sockaddr_in address{};
    socklen_t size = sizeof address;
    getsockname(socket, reinterpret_cast<sockaddr*>(&address), &size);
    return ntohs(address.sin_port);
}

MHD_Result take_header(void* headers, MHD_ValueKind /*kind*/, const char* name, const char* value) {
    std::string lower = name;
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const std::string_view separator = lower == "cookie" ? "; " : ", ";
    auto& all = *static_cast<decltype(HttpRequest::headers)*>(headers);
    const auto [kept, is_new] = all.try_emplace(std::move(lower), value == nullptr ? "" : value);
    if (!is_new) {
        kept->second.append(separator).append(value == nullptr ? "" : value);
    }
    return MHD_YES;
}

std::size_t number_in(std::string_view text) {
    std::size_t value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

/// Of a connection, from its beginning to its end: it serves one request. Used by the library's thread, and by one that
/// answers while the connection is suspended.
struct Exchange {
    std::optional<Strangers::Place> place; ///< while the gate has not let it in
    std::string target;
    HttpRequest request;
    std::optional<HttpReply> reply;
    std::size_t expected = 0; ///< bytes of the body
    bool let_in = false;
    bool asked = false; ///< given to those who answer
};

/// A reply that goes on. Wakes its connection when there is more to send.
class Going {
public:
    Going(std::shared_ptr<TextStream> stream, MHD_Connection* connection)
        : stream_(std::move(stream)), connection_(connection) {}

    /// From any thread.
    void wake() {
        const std::lock_guard lock(mutex_);
        if (std::exchange(sleeps_, false)) {
            MHD_resume_connection(connection_);
        }
    }

    ssize_t read(char* to, std::size_t most, bool stopping) {
        const std::lock_guard lock(mutex_);
        while (rest_.empty()) {
            auto piece = stopping ? std::nullopt : stream_->next();
            if (!piece) {
                return MHD_CONTENT_READER_END_OF_STREAM;
            }
            if (piece->empty()) {
                sleeps_ = true;
                MHD_suspend_connection(connection_);
                return 0;
            }
            rest_ = std::move(*piece);
        }
        const std::size_t size = std::min(most, rest_.size());
        std::memcpy(to, rest_.data(), size);
        rest_.erase(0, size);
        return static_cast<ssize_t>(size);
    }

    void watch(const std::shared_ptr<Going>& self) {
        stream_->on_ready([weak = std::weak_ptr(self)] {
            if (const auto going = weak.lock()) {
                going->wake();
            }
        });
    }

private:
    std::mutex mutex_;
    std::shared_ptr<TextStream> stream_;
    MHD_Connection* connection_;
    std::string rest_;
    bool sleeps_ = false;
};

} // namespace

struct HttpServer::State {
    HttpLimits limits;
    int socket;
    HttpHandlers handlers{};
    Strangers strangers;
    std::unique_ptr<WorkLine> line{};
    MHD_Daemon* daemon = nullptr;
    std::atomic<bool> stopping{false};
    std::atomic<std::size_t> bodies_bytes{0};

    std::mutex mutex{}; ///< guards what follows
    std::list<std::weak_ptr<Going>> going{};
    std::condition_variable stopped{};
    std::thread ticker{};

    State(int port, const HttpLimits& given)
        : limits(given), socket(listening_socket(port)), strangers(given.strangers, given.head_time) {}

    void wake_streams() {
        std::vector<std::shared_ptr<Going>> streams;
        {
            const std::lock_guard lock(mutex);
            std::erase_if(going, [](const auto& stream) { return stream.expired(); });
            for (const auto& stream : going) {
                streams.push_back(stream.lock());
            }
        }
        for (const auto& stream : streams) {
            if (stream) {
                stream->wake();
            }
        }
    }

    /// Looks after those who are late, and lets streams say now and then that they are there.
    void keep_watch() {
        std::unique_lock lock(mutex);
        for (int ticks = 0; !stopped.wait_for(lock, tick, [this] { return stopping.load(); }); ++ticks) {
            lock.unlock();
            strangers.cut_late(Strangers::Clock::now());
            if (ticks % 4 == 0) {
                wake_streams();
            }
            lock.lock();
        }
    }

    void show_in(Exchange& exchange) {
        exchange.let_in = true;
        strangers.remove(*exchange.place);
        exchange.place.reset();
    }

    /// By the head. A reply ends the request.
    std::optional<HttpReply> judge(Exchange& exchange, MHD_Connection* connection, const char* method) {
        auto target = read_target(exchange.target);
        if (!target) {
            return text_reply(400, "Refused: that is no address of this server.\n");
        }
        HttpRequest& request = exchange.request;
        request.method = method;
        request.path = std::move(target->path);
        request.query = std::move(target->query);
        MHD_get_connection_values(connection, MHD_HEADER_KIND, take_header, &request.headers);
        if (auto refusal = handlers.gate(request)) {
            return refusal;
        }
        show_in(exchange);
        exchange.expected = number_in(request.header("content-length"));
        if (exchange.expected > limits.body_bytes) {
            return text_reply(413, "Refused: that is more than is accepted here.\n");
        }
        if (bodies_bytes.fetch_add(exchange.expected) + exchange.expected > limits.bodies_bytes) {
            return text_reply(503, "Too much is being received at once. Try again in a moment.\n");
        }
        request.body.reserve(exchange.expected);
        return std::nullopt;
    }

    void answer(Exchange& exchange) const {
        try {
            exchange.reply = handlers.answer(exchange.request);
        } catch (const std::exception&) {
            exchange.reply = text_reply(500, "Something went wrong inside Retap.\n");
        }
        exchange.request.body = {};
    }

    MHD_Result send(Exchange& exchange, MHD_Connection* connection, HttpReply reply) {
        MHD_Response* response = nullptr;
        int status = reply.status;
        std::string_view body = reply.body;
        std::string content_range;
        if (reply.stream) {
            response = stream_response(connection, std::move(reply.stream));
        } else {
            if (status == 200 && exchange.request.method == "GET") {
                const AskedRange asked = asked_range(exchange.request.header("range"), body.size());
                if (asked.kind == AskedRange::Kind::part) {
                    status = 206;
                    content_range = "bytes " + std::to_string(asked.part.first) + "-" +
                                    std::to_string(asked.part.last) + "/" + std::to_string(body.size());
                    body = body.substr(asked.part.first, asked.part.last - asked.part.first + 1);
                } else if (asked.kind == AskedRange::Kind::none) {
                    status = 416;
                    content_range = "bytes */" + std::to_string(body.size());
                    body = {};
                }
            }
            // The library does not write to it.
            response =
                MHD_create_response_from_buffer(body.size(), const_cast<char*>(body.data()), MHD_RESPMEM_MUST_COPY);
        }
        if (response == nullptr) {
            return MHD_NO;
        }
        const auto header = [response](const std::string& name, const std::string& value) {
            MHD_add_response_header(response, name.c_str(), value.c_str());
        };
        header("Connection", "close");
        header("Content-Type", reply.media_type);
        for (const auto& [name, value] : safe_headers()) {
            header(name, value);
        }
        for (const auto& [name, value] : reply.headers) {
            header(name, value);
        }
        if (status == 200 || status == 206) {
            header("Accept-Ranges", "bytes");
        }
        if (!content_range.empty()) {
            header("Content-Range", content_range);
        }
        const MHD_Result queued = MHD_queue_response(connection, static_cast<unsigned>(status), response);
        MHD_destroy_response(response);
        return queued;
    }

    /// What the library holds of a stream.
    struct Held {
        State* state;
        std::shared_ptr<Going> going;
    };

    MHD_Response* stream_response(MHD_Connection* connection, std::shared_ptr<TextStream> stream) {
        auto held = std::make_unique<Held>(Held{this, std::make_shared<Going>(std::move(stream), connection)});
        held->going->watch(held->going);
        {
            const std::lock_guard lock(mutex);
            going.push_back(held->going);
        }
        constexpr std::size_t block = 4096;
        MHD_Response* const response = MHD_create_response_from_callback(
            MHD_SIZE_UNKNOWN, block,
            [](void* cls, std::uint64_t, char* to, std::size_t most) {
                const auto& one = *static_cast<Held*>(cls);
                return one.going->read(to, most, one.state->stopping);
            },
            held.get(), [](void* cls) { delete static_cast<Held*>(cls); });
        if (response != nullptr) {
            static_cast<void>(held.release());
        }
        return response;
    }

    MHD_Result handle(Exchange& exchange, MHD_Connection* connection, const char* method, const char* data,
                      std::size_t* size, bool first) {
        if (first) {
            auto refusal = judge(exchange, connection, method);
            return refusal ? send(exchange, connection, std::move(*refusal)) : MHD_YES;
        }
        if (*size > 0) {
            if (exchange.request.body.size() + *size > exchange.expected) {
                return MHD_NO;
            }
            exchange.request.body.append(data, *size);
            *size = 0;
            return MHD_YES;
        }
        if (exchange.reply) {
            return send(exchange, connection, std::move(*std::exchange(exchange.reply, std::nullopt)));
        }
        const bool taken =
            !std::exchange(exchange.asked, true) && line->add(
                                                        [this, &exchange, connection] {
                                                            answer(exchange);
                                                            MHD_resume_connection(connection);
                                                        },
                                                        [connection] { MHD_suspend_connection(connection); });
        return taken ? MHD_YES : send(exchange, connection, text_reply(503, "Retap is busy. Try again in a moment.\n"));
    }

    void begin(MHD_Connection* connection, void** context) {
        const auto* const info = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
        const int yes = 1;
        setsockopt(info->connect_fd, IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
        auto exchange = std::make_unique<Exchange>();
        exchange->place = strangers.add(info->connect_fd, Strangers::Clock::now());
        *context = exchange.release();
    }

    void end(void** context) {
        const std::unique_ptr<Exchange> exchange(static_cast<Exchange*>(std::exchange(*context, nullptr)));
        if (exchange->place) {
            strangers.remove(*exchange->place);
        }
        bodies_bytes -= exchange->expected;
    }

    static Exchange& exchange_of(MHD_Connection* connection) {
        return *static_cast<Exchange*>(
            MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT)->socket_context);
    }

    // What the library calls.

    static void on_connection(void* cls, MHD_Connection* connection, void** context,
                              MHD_ConnectionNotificationCode what) {
        auto& state = *static_cast<State*>(cls);
        if (what == MHD_CONNECTION_NOTIFY_STARTED) {
            state.begin(connection, context);
        } else {
            state.end(context);
        }
    }

    static void* on_target(void* /*cls*/, const char* target, MHD_Connection* connection) {
        exchange_of(connection).target = target;
        return nullptr;
    }

    static MHD_Result on_request(void* cls, MHD_Connection* connection, const char* /*url*/, const char* method,
                                 const char* /*version*/, const char* data, std::size_t* size, void** context) {
        Exchange& exchange = exchange_of(connection);
        const bool first = std::exchange(*context, &exchange) == nullptr;
        try {
            return static_cast<State*>(cls)->handle(exchange, connection, method, data, size, first);
        } catch (const std::exception&) {
            return MHD_NO; // out of memory; the connection is closed
        }
    }
};

HttpServer::HttpServer(int port, HttpLimits limits) : state_(std::make_unique<State>(port, limits)) {}

HttpServer::~HttpServer() {
    stop();
    ::close(state_->socket);
}

int HttpServer::port() const {
    return port_of(state_->socket);
}

void HttpServer::start(HttpHandlers handlers) {
    State& state = *state_;
    state.handlers = std::move(handlers);
    state.line = std::make_unique<WorkLine>(state.limits.threads, state.limits.waiting_requests);
    state.daemon =
        MHD_start_daemon(MHD_USE_EPOLL_INTERNAL_THREAD | MHD_USE_SUSPEND_RESUME, 0, nullptr, nullptr,
                         &State::on_request, &state, MHD_OPTION_LISTEN_SOCKET, state.socket,                   //
                         MHD_OPTION_CONNECTION_LIMIT, static_cast<unsigned>(state.limits.connections),         //
                         MHD_OPTION_CONNECTION_MEMORY_LIMIT, state.limits.head_bytes,                          //
                         MHD_OPTION_CONNECTION_TIMEOUT, static_cast<unsigned>(state.limits.idle_time.count()), //
                         MHD_OPTION_STRICT_FOR_CLIENT, 1,                                                      //
                         MHD_OPTION_NOTIFY_CONNECTION, &State::on_connection, &state,                          //
                         MHD_OPTION_URI_LOG_CALLBACK, &State::on_target, &state,                               //
                         MHD_OPTION_END);
    if (state.daemon == nullptr) {
        throw DeviceError("Starting the chairside server: the system gives it no thread. Close other programs.");
    }
    state.ticker = std::thread([&state] { state.keep_watch(); });
}

void HttpServer::stop() {
    State& state = *state_;
    if (state.daemon == nullptr) {
        return;
    }
    MHD_quiesce_daemon(state.daemon);
    {
        const std::lock_guard lock(state.mutex);
        state.stopping = true;
        state.stopped.notify_all();
    }
    state.ticker.join();
    state.line->finish(); // from here on nothing is suspended any more, and what is going on ends
    state.wake_streams();
    MHD_stop_daemon(std::exchange(state.daemon, nullptr));
}

} // namespace retap::chairside
