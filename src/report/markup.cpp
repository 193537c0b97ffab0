#include "report/markup.hpp"

#include <cstddef>
#include <cstdint>

namespace retap::report {

namespace {

/// Length of the UTF-8 sequence at the start of `text`, or 0 when it is not a valid one (RFC 3629: no overlong forms,
/// no surrogates, nothing above U+10FFFF).
std::size_t utf8_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    const std::uint8_t lead = byte(0);
    if (lead < 0x80) {
        return 1;
    }
    std::size_t length = 0;
    std::uint8_t low = 0x80;
    std::uint8_t high = 0xBF;
    if (lead >= 0xC2 && lead <= 0xDF) {
        length = 2;
    } else if (lead >= 0xE0 && lead <= 0xEF) {
        length = 3;
        low = lead == 0xE0 ? 0xA0 : low;
        high = lead == 0xED ? 0x9F : high;
    } else if (lead >= 0xF0 && lead <= 0xF4) {
        length = 4;
        low = lead == 0xF0 ? 0x90 : low;
        high = lead == 0xF4 ? 0x8F : high;
    }
    if (length == 0 || text.size() < length || byte(1) < low || byte(1) > high) {
        return 0;
    }
    for (std::size_t i = 2; i < length; ++i) {
        if ((byte(i) & 0xC0) != 0x80) {
            return 0;
        }
    }
    return length;
}

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
