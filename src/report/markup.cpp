#include "report/markup.hpp"

#include "utf8.hpp"

#include <cstddef>
#include <cstdint>

namespace retap::report {

namespace {

bool forbidden_control(char c) {
    const auto byte = static_cast<std::uint8_t>(c);
    return (byte < 0x20 && c != '\n' && c != '\t') || byte == 0x7F;
}

} // namespace

std::string escape(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = utf8_length(text);
        const char c = text.front();
        if (length == 0) {
            out += "\xEF\xBF\xBD";
        } else if (length > 1) {
            out += text.substr(0, length);
        } else if (c == '&') {
            out += "&amp;";
        } else if (c == '<') {
            out += "&lt;";
        } else if (c == '>') {
            out += "&gt;";
        } else if (c == '"') {
            out += "&quot;";
        } else if (c == '\'') {
            out += "&#39;";
        } else if (!forbidden_control(c)) {
            out += c;
        }
        text.remove_prefix(length == 0 ? 1 : length);
    }
    return out;
}

void Markup::start(std::string_view element, std::initializer_list<Attribute> attributes) {
    markup_ += '<';
    markup_ += element;
    for (const Attribute& attribute : attributes) {
        markup_ += ' ';
        markup_ += attribute.name;
        markup_ += "=\"";
        markup_ += escape(attribute.value);
        markup_ += '"';
    }
}

Markup& Markup::open(std::string_view element, std::initializer_list<Attribute> attributes) {
    start(element, attributes);
    markup_ += '>';
    return *this;
}

Markup& Markup::close(std::string_view element) {
    markup_ += "</";
    markup_ += element;
    markup_ += '>';
    return *this;
}

Markup& Markup::empty(std::string_view element, std::initializer_list<Attribute> attributes) {
    start(element, attributes);
    markup_ += "/>";
    return *this;
}

Markup& Markup::text(std::string_view text) {
    markup_ += escape(text);
    return *this;
}

Markup& Markup::element(std::string_view element, std::initializer_list<Attribute> attributes, std::string_view text) {
    return open(element, attributes).text(text).close(element);
}

Markup& Markup::add(std::string_view markup) {
    markup_ += markup;
    return *this;
}

} // namespace retap::report
