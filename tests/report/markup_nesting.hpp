// Whether a document is well formed, for tests of whatever writes HTML.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace retap::test {

/// Walks a document and returns what is wrong with its nesting, or nothing. Knows the void elements it may meet and
/// skips the inside of style and script, as a browser does.
inline std::string nesting_fault(std::string_view html) {
    static const std::set<std::string, std::less<>> raw{"style", "script"};
    std::vector<std::string> open;
    for (std::size_t at = html.find('<'); at != std::string_view::npos; at = html.find('<', at)) {
        if (html.substr(at, 2) == "<!") {
            at = html.find('>', at);
            continue;
        }
        const bool closes = html.substr(at, 2) == "</";
        const std::size_t name_at = at + (closes ? 2 : 1);
        const std::size_t name_end = html.find_first_of(" />", name_at);
        const std::string name(html.substr(name_at, name_end - name_at));
        std::size_t end = name_end;
        for (bool quoted = false; end < html.size() && (quoted || html[end] != '>'); ++end) {
            quoted = html[end] == '"' ? !quoted : quoted;
            if (quoted && html[end] == '<') {
                return "a < inside an attribute of " + name;
            }
        }
        if (end >= html.size()) {
            return "an unfinished tag: " + name;
        }
        if (closes) {
            if (open.empty() || open.back() != name) {
                return "</" + name + "> closes " + (open.empty() ? "nothing" : open.back());
            }
            open.pop_back();
        } else if (html[end - 1] != '/') {
            open.push_back(name);
            if (raw.contains(name)) {
                end = html.find("</" + name, end) - 1;
            }
        }
        at = end + 1;
    }
    return open.empty() ? std::string() : open.back() + " is never closed";
}

} // namespace retap::test
