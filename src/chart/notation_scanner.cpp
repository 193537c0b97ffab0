#include "chart/notation_scanner.hpp"

#include <algorithm>
#include <array>

namespace retap::chart {

namespace {

constexpr std::string_view separators = " \t\r\n,;";

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_letter(char c) {
    return c >= 'a' && c <= 'z';
}

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::string plain(Numbering numbering) {
    return numbering == Numbering::iso ? "ISO" : "Universal";
}

std::string range_of(Numbering numbering) {
    return numbering == Numbering::iso ? "11-18, 21-28, 31-38, 41-48" : "1-32";
}

/// Why `digits` is no tooth, and what may have been meant.
std::string no_such_tooth(const std::string& digits, int number, Numbering numbering) {
    if (numbering == Numbering::iso && number / 10 >= 5 && number / 10 <= 8 && number % 10 >= 1 && number % 10 <= 5) {
        return digits + " is a milk tooth; charts are for permanent teeth";
    }
    std::string fault = digits + " is not a tooth in " + plain(numbering) + " numbering (" + range_of(numbering) + ")";
    const Numbering other = numbering == Numbering::iso ? Numbering::universal : Numbering::iso;
    if (const auto tooth = Tooth::from_number(number, other)) {
        fault += "; in " + plain(other) + " numbering it is the " + plain_name(*tooth) +
                 ": if that is meant, start with \"" + std::string(word(other)) + ":\"";
    }
    return fault;
}

} // namespace

NotationScanner::NotationScanner(std::string_view text, Numbering numbering) : text_(text), numbering_(numbering) {
    at_end();
    const std::size_t start = at_;
    const auto named = numbering_from(take_letters());
    if (named && take(":")) {
        numbering_ = *named;
    } else {
        at_ = start;
    }
}

bool NotationScanner::at_end() {
    at_ = std::min(text_.find_first_not_of(separators, at_), text_.size());
    return at_ == text_.size();
}

char NotationScanner::here() const {
    return at_ < text_.size() ? lower(text_[at_]) : '\0';
}

bool NotationScanner::at_digit() const {
    return is_digit(here());
}

bool NotationScanner::at_letter() const {
    return is_letter(here());
}

bool NotationScanner::take(std::string_view piece) {
    const std::string_view ahead = text_.substr(at_, piece.size());
    if (!std::equal(ahead.begin(), ahead.end(), piece.begin(), piece.end(),
                    [](char a, char b) { return lower(a) == lower(b); })) {
        return false;
    }
    at_ += piece.size();
    return true;
}

std::string NotationScanner::take_letters() {
    std::string letters;
    for (; at_letter(); ++at_) {
        letters += here();
    }
    return letters;
}

Tooth NotationScanner::take_tooth() {
    const std::size_t start = at_;
    std::string digits;
    for (; at_digit(); ++at_) {
        digits += here();
    }
    if (digits.empty()) {
        if (numbering_ == Numbering::universal && at_letter() && here() <= 't' &&
            (at_ + 1 == text_.size() || !is_letter(lower(text_[at_ + 1])))) {
            fail(at_, "letters are milk teeth; charts are for permanent teeth (1-32)");
        }
        fail(at_, "a tooth number is missing here");
    }
    const bool dotted = numbering_ == Numbering::iso && digits.size() == 1 && here() == '.' && at_ + 1 < text_.size() &&
                        is_digit(text_[at_ + 1]);
    if (dotted) {
        digits += text_[at_ + 1];
        at_ += 2;
        if (at_digit()) {
            fail(start, "an ISO number has two digits, such as 1.6 or 16");
        }
    }
    if (digits.size() > 2) {
        fail(start, "a tooth number has one or two digits (" + range_of(numbering_) + ")");
    }
    const int number = std::stoi(digits);
    const auto tooth = Tooth::from_number(number, numbering_);
    if (!tooth) {
        fail(start, no_such_tooth(digits, number, numbering_));
    }
    return *tooth;
}

std::vector<Tooth> NotationScanner::take_rest_of_range(Tooth first) {
    if (here() == '-') {
        fail(at_, "for a row of teeth write two dots, such as " + name(first, numbering_) + ".." +
                      name(Tooth(first.arch(), first.side(), first.place() == 8 ? 7 : 8), numbering_));
    }
    if (!take("..")) {
        return {first};
    }
    const std::size_t start = at_;
    const Tooth last = take_tooth();
    if (last.arch() != first.arch()) {
        fail(start, "a row of teeth stays in one arch; " + name(first, numbering_) + " and " + name(last, numbering_) +
                        " are not in the same one");
    }
    std::vector<Tooth> row;
    for (const Tooth tooth : all_teeth()) {
        if (tooth >= std::min(first, last) && tooth <= std::max(first, last)) {
            row.push_back(tooth);
        }
    }
    return row;
}

void NotationScanner::fail(std::size_t at, const std::string& fault) const {
    throw NotationError(text_, at, fault);
}

} // namespace retap::chart
