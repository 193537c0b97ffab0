// Requests and replies as the chairside server sees them, free of any HTTP library.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::chairside {

struct HttpRequest {
    std::string method; ///< "GET", "POST", ...
    std::string path;   ///< decoded, without the query
    std::map<std::string, std::string, std::less<>> query;
    std::map<std::string, std::string, std::less<>> headers; ///< names in lower case; equal ones joined by commas
    std::string body;

    /// Empty when there is no such header.
    [[nodiscard]] std::string_view header(std::string_view lower_case_name) const;
    [[nodiscard]] std::string_view query_value(std::string_view name) const;
};

/// A reply that goes on: text is sent as it comes, until nothing is returned. For several threads.
class TextStream {
public:
    TextStream() = default;
    TextStream(const TextStream&) = delete;
    TextStream& operator=(const TextStream&) = delete;
    virtual ~TextStream() = default;

    /// The next piece, without waiting. An empty piece means that nothing came; no piece ends the reply. Also asked now
    /// and then when nothing came, so that it can say that it is there.
    virtual std::optional<std::string> next() = 0;
    /// `ready` is to be called, from any thread, when there is more or the end has come.
    virtual void on_ready(std::function<void()> ready) = 0;
};

struct HttpReply {
    int status = 200;
    std::string media_type = "text/plain; charset=utf-8";
    std::string body;
    std::vector<std::pair<std::string, std::string>> headers;
    std::shared_ptr<TextStream> stream; ///< sent instead of the body when set
};

/// A short plain-text reply.
[[nodiscard]] HttpReply text_reply(int status, std::string_view text);
[[nodiscard]] HttpReply json_reply(std::string json);
[[nodiscard]] HttpReply html_reply(std::string html, int status = 200);

/// The fields of a body written as name=value&name=value with %-escapes. A name without "=" has an empty value; escapes
/// that are none stay as they are.
[[nodiscard]] std::map<std::string, std::string, std::less<>> form_fields(std::string_view body);

/// What a request asks for, as it stands in its first line.
struct HttpTarget {
    std::string path;
    std::map<std::string, std::string, std::less<>> query;
};
/// Reads "/path?name=value" with %-escapes. Nothing for what is no path, has broken escapes in it or a zero byte.
[[nodiscard]] std::optional<HttpTarget> read_target(std::string_view target);

} // namespace retap::chairside
