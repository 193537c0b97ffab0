#include "visit/fields.hpp"

#include "error.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

std::string escaped(std::string_view value) {
    std::string text;
    text.reserve(value.size());
    for (const char c : value) {
        if (c == '\\') {
            text += "\\\\";
        } else if (c == '\n') {
            text += "\\n";
        } else {
            text += c;
        }
    }
    return text;
}

std::string unescaped(std::string_view text) {
    std::string value;
    value.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '\\') {
            value += text[i];
        } else if (++i < text.size() && (text[i] == '\\' || text[i] == 'n')) {
            value += text[i] == 'n' ? '\n' : '\\';
        } else {
            throw StoreError("The visit store holds a record that cannot be read: a stray backslash.");
        }
    }
    return value;
}

} // namespace

void Fields::add(std::string name, std::string value) {
    fields_.emplace_back(std::move(name), std::move(value));
}

void Fields::add(std::string name, const std::optional<std::string>& value) {
    if (value) {
        add(std::move(name), *value);
    }
}

std::optional<std::string> Fields::find(std::string_view name) const {
    const auto found =
        std::find_if(fields_.begin(), fields_.end(), [name](const auto& field) { return field.first == name; });
    return found == fields_.end() ? std::nullopt : std::optional(found->second);
}

const std::string& Fields::get(std::string_view name) const {
    const auto found =
        std::find_if(fields_.begin(), fields_.end(), [name](const auto& field) { return field.first == name; });
    if (found == fields_.end()) {
        throw StoreError("The visit store holds a record that cannot be read: '" + std::string(name) + "' is missing.");
    }
    return found->second;
}

std::string Fields::text() const {
    std::string text;
    for (const auto& [name, value] : fields_) {
        text += name + "=" + escaped(value) + "\n";
    }
    return text;
}

Fields Fields::read(std::string_view text) {
    Fields fields;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        const std::string_view line = text.substr(0, end);
        const std::size_t equals = line.find('=');
        if (end == std::string_view::npos || equals == std::string_view::npos) {
            throw StoreError("The visit store holds a record that cannot be read: a broken line.");
        }
        if (fields.find(line.substr(0, equals))) {
            throw StoreError("The visit store holds a record that cannot be read: a field stands there twice.");
        }
        fields.add(std::string(line.substr(0, equals)), unescaped(line.substr(equals + 1)));
        text.remove_prefix(end + 1);
    }
    return fields;
}

} // namespace retap::visit
