#include "chairside/http_server.hpp"

#include "chairside/gate.hpp"
#include "error.hpp"

#include <algorithm>
#include <atomic>
#include <cctype>
#include <httplib.h>
#include <sys/socket.h>
#include <thread>

namespace retap::chairside {

namespace {

HttpRequest our_request(const httplib::Request& theirs) {
    HttpRequest ours;
    ours.method = theirs.method;
    ours.path = theirs.path;
    for (const auto& [name, value] : theirs.params) {
        ours.query[name] = value;
    }
    for (const auto& [name, value] : theirs.headers) {
        std::string lower = name;
        std::transform(lower.begin(), lower.end(), lower.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        std::string& kept = ours.headers[lower];
        kept += kept.empty() ? value : (lower == "cookie" ? "; " : ", ") + value;
    }
    ours.body = theirs.body;
    return ours;
}

} // namespace

struct HttpServer::State {
    httplib::Server server;
    HttpHandlers handlers;
    std::thread thread;
    std::atomic<bool> stopping{false};
    int port = 0;

    void send(HttpReply reply, const httplib::Request& request, httplib::Response& response) {
        // The library cuts a body to the ranges that were asked for and leaves it to us to say so.
        response.status = reply.status == 200 && !request.ranges.empty() && !reply.stream ? 206 : reply.status;
        for (const auto& [name, value] : safe_headers()) {
            response.set_header(name, value);
        }
        for (const auto& [name, value] : reply.headers) {
            response.set_header(name, value);
        }
        if (!reply.stream) {
            response.set_content(reply.body, reply.media_type);
            return;
        }
        response.set_chunked_content_provider(
            reply.media_type, [this, stream = std::move(reply.stream)](std::size_t, httplib::DataSink& sink) {
                using namespace std::chrono_literals;
                auto piece = stopping ? std::nullopt : stream->next(250ms);
                if (!piece) {
                    sink.done();
                    return true;
                }
                return piece->empty() ? sink.is_writable() : sink.write(piece->data(), piece->size());
            });
    }

    [[nodiscard]] HttpReply answer(const httplib::Request& request) const {
        try {
            return handlers.answer(our_request(request));
        } catch (const std::exception&) {
            return text_reply(500, "Something went wrong inside Retap.\n");
        }
    }
};

HttpServer::HttpServer(int port, std::size_t max_body_bytes, std::size_t max_threads)
    : state_(std::make_unique<State>()) {
    httplib::Server& server = state_->server;
    // The library's own options let a second program share the port.
    server.set_socket_options([](socket_t socket) {
        const int yes = 1;
        setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    server.new_task_queue = [max_threads] { return new httplib::ThreadPool(max_threads); };
    server.set_keep_alive_max_count(1);
    server.set_payload_max_length(max_body_bytes);
    server.set_read_timeout(10);
    server.set_write_timeout(10);
    server.set_tcp_nodelay(true);
    const bool bound = port == 0 ? (state_->port = server.bind_to_any_port("127.0.0.1")) > 0
                                 : server.bind_to_port("127.0.0.1", state_->port = port);
    if (!bound) {
        throw DeviceError("Starting the chairside server: port " + std::to_string(port) +
                          " cannot be used; another program may hold it. Leave --port out to take any free one.");
    }
}

HttpServer::~HttpServer() {
    stop();
}

int HttpServer::port() const {
    return state_->port;
}

void HttpServer::start(HttpHandlers handlers) {
    state_->handlers = std::move(handlers);
    State* const state = state_.get();
    state->server.set_pre_routing_handler([state](const httplib::Request& request, httplib::Response& response) {
        auto refusal = state->handlers.gate(our_request(request));
        if (!refusal) {
            return httplib::Server::HandlerResponse::Unhandled;
        }
        state->send(std::move(*refusal), request, response);
        return httplib::Server::HandlerResponse::Handled;
    });
    const auto answer = [state](const httplib::Request& request, httplib::Response& response) {
        state->send(state->answer(request), request, response);
    };
    state->server.Get(".*", answer).Post(".*", answer).Put(".*", answer).Delete(".*", answer);
    state->thread = std::thread([state] { state->server.listen_after_bind(); });
    while (!state->server.is_running() && state->thread.joinable()) {
        std::this_thread::yield();
    }
}

void HttpServer::stop() {
    state_->stopping = true;
    if (state_->thread.joinable()) {
        state_->server.stop();
        state_->thread.join();
    }
}

} // namespace retap::chairside
