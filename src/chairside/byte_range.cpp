#include "chairside/byte_range.hpp"

#include <algorithm>
#include <charconv>
#include <system_error>

namespace retap::chairside {

namespace {

std::optional<std::size_t> number(std::string_view text) {
    std::size_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() ? std::optional(value) : std::nullopt;
}

} // namespace

AskedRange asked_range(std::string_view header, std::size_t size) {
    constexpr std::string_view unit = "bytes=";
    const std::string_view range = header.starts_with(unit) ? header.substr(unit.size()) : std::string_view();
    const std::size_t dash = range.find('-');
    if (dash == std::string_view::npos) {
        return {};
    }
    const std::string_view from = range.substr(0, dash);
    const std::string_view to = range.substr(dash + 1);
    const auto first = number(from);
    const auto last = number(to);
    if ((!first && !from.empty()) || (!last && !to.empty()) || (!first && !last) || (first && last && *last < *first)) {
        return {};
    }
    const std::size_t begin = first ? *first : size - std::min(size, *last);
    if (begin >= size) {
        return {.kind = AskedRange::Kind::none};
    }
    const std::size_t end = first && last ? std::min(*last, size - 1) : size - 1;
    return {.kind = AskedRange::Kind::part, .part = {.first = begin, .last = end}};
}

} // namespace retap::chairside
