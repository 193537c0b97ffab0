// Plain HTTP over a socket, for requests no browser would send.
#pragma once

#include <string>

namespace retap::test {

/// Sends the text to 127.0.0.1:port and returns everything that comes back until the server closes, or until
/// `stop_after` has arrived. Gives up after ten seconds without a byte (throws std::runtime_error).
[[nodiscard]] std::string exchange(int port, const std::string& request, const std::string& stop_after = {});

/// "200" from "HTTP/1.1 200 OK..."; 0 when there is none.
[[nodiscard]] int status_of(const std::string& reply);
/// The value of a header, empty when it is not there.
[[nodiscard]] std::string header_of(const std::string& reply, const std::string& name);
[[nodiscard]] std::string body_of(const std::string& reply);

} // namespace retap::test
