// Plain HTTP over a socket, for requests no browser would send.
#pragma once

#include <string>
#include <string_view>

namespace retap::test {

/// Sends the text to 127.0.0.1:port and returns everything that comes back until the server closes, or until
/// `stop_after` has arrived. Gives up after ten seconds without a byte (throws std::runtime_error).
[[nodiscard]] std::string exchange(int port, const std::string& request, const std::string& stop_after = {});

/// A connection that stays open; the same ten seconds. Ends with the object.
class OpenSocket {
public:
    explicit OpenSocket(int port);
    ~OpenSocket();
    OpenSocket(OpenSocket&& other) noexcept;
    OpenSocket& operator=(OpenSocket&&) = delete;
    OpenSocket(const OpenSocket&) = delete;
    OpenSocket& operator=(const OpenSocket&) = delete;

    /// What the other side no longer takes is lost without a word.
    void send(std::string_view text) const;
    /// Everything from here on until `stop_after` has arrived or the server closes.
    [[nodiscard]] std::string until(const std::string& stop_after) const;
    [[nodiscard]] std::string rest() const { return until({}); }

private:
    int socket_;
};

/// "200" from "HTTP/1.1 200 OK..."; 0 when there is none.
[[nodiscard]] int status_of(const std::string& reply);
/// The value of a header, empty when it is not there.
[[nodiscard]] std::string header_of(const std::string& reply, const std::string& name);
[[nodiscard]] std::string body_of(const std::string& reply);

} // namespace retap::test
