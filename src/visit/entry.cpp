#include "visit/entry.hpp"

#include <array>
#include <charconv>
#include <utility>

namespace retap::visit {

namespace {

constexpr std::array<std::pair<std::string_view, LookKind>, 3> look_words = {
    {{"before", LookKind::before}, {"after", LookKind::after}, {"recheck", LookKind::recheck}}};

constexpr std::array<std::string_view, std::variant_size_v<Body>> kinds = {
    "opened",   "holds",     "marks",  "take",      "feel",   "comparison",
    "decision", "withdrawn", "signed", "crossbite", "warning"};

} // namespace

std::string text(const LookName& name) {
    return std::string(look_words.at(static_cast<std::size_t>(name.kind)).first) +
           (name.number > 1 ? std::to_string(name.number) : "");
}

std::optional<LookName> look_from(std::string_view text) {
    for (const auto& [word, kind] : look_words) {
        if (!text.starts_with(word)) {
            continue;
        }
        const std::string_view rest = text.substr(word.size());
        if (rest.empty()) {
            return LookName{kind, 1};
        }
        int number = 0;
        const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), number);
        const bool whole = error == std::errc() && end == rest.data() + rest.size() && rest.front() != '0';
        if (whole && number >= 1 && number <= 99 && (kind != LookKind::before || number == 1)) {
            return LookName{kind, number};
        }
    }
    return std::nullopt;
}

std::string_view kind_of(const Body& body) {
    return kinds.at(body.index());
}

} // namespace retap::visit
