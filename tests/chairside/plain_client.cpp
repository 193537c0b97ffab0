#include "plain_client.hpp"

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstdlib>
#include <netinet/in.h>
#include <stdexcept>
#include <sys/socket.h>
#include <unistd.h>
#include <utility>

namespace retap::test {

OpenSocket::OpenSocket(int port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    const timeval limit{10, 0};
    setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &limit, sizeof limit);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (connect(socket_, reinterpret_cast<sockaddr*>(&address), sizeof address) != 0) {
        close(socket_);
        throw std::runtime_error("nobody listens");
    }
}

OpenSocket::~OpenSocket() {
    if (socket_ >= 0) {
        close(socket_);
    }
}

OpenSocket::OpenSocket(OpenSocket&& other) noexcept : socket_(std::exchange(other.socket_, -1)) {}

void OpenSocket::send(std::string_view text) const {
    // A server that refuses early may close before everything is sent; what it said still arrives.
    while (!text.empty()) {
        const ssize_t n = ::send(socket_, text.data(), text.size(), MSG_NOSIGNAL);
        if (n <= 0) {
            break;
        }
        text.remove_prefix(static_cast<std::size_t>(n));
    }
}

std::string OpenSocket::until(const std::string& stop_after) const {
    std::string reply;
    std::array<char, 4096> block{};
    while (stop_after.empty() || reply.find(stop_after) == std::string::npos) {
        const ssize_t n = recv(socket_, block.data(), block.size(), 0);
        if (n < 0 && reply.empty() && errno != ECONNRESET) {
            throw std::runtime_error("no answer");
        }
        if (n <= 0) {
            break;
        }
        reply.append(block.data(), static_cast<std::size_t>(n));
    }
    return reply;
}

std::string exchange(int port, const std::string& request, const std::string& stop_after) {
    const OpenSocket socket(port);
    socket.send(request);
    return socket.until(stop_after);
}

int status_of(const std::string& reply) {
    return reply.starts_with("HTTP/1.1 ") ? std::atoi(reply.c_str() + 9) : 0;
}

std::string header_of(const std::string& reply, const std::string& name) {
    const std::size_t at = reply.find("\r\n" + name + ": ");
    if (at == std::string::npos || at > reply.find("\r\n\r\n")) {
        return {};
    }
    const std::size_t from = at + name.size() + 4;
    return reply.substr(from, reply.find("\r\n", from) - from);
}

std::string body_of(const std::string& reply) {
    const std::size_t at = reply.find("\r\n\r\n");
    return at == std::string::npos ? std::string() : reply.substr(at + 4);
}

} // namespace retap::test
