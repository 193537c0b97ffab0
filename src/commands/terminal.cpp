#include "terminal.hpp"

#include "error.hpp"
#include "utf8.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <unistd.h>
#include <utility>

namespace retap::commands {

std::string shown(std::string_view text) {
    constexpr std::string_view replacement = "\uFFFD";
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = utf8_length(text);
        const std::string_view sign = text.substr(0, std::max<std::size_t>(length, 1));
        const auto byte = [&](std::size_t at) { return static_cast<unsigned char>(sign[at]); };
        bool hidden = length == 0;
        if (length == 1) {
            hidden = (byte(0) < 0x20 && sign != "\n" && sign != "\t") || byte(0) == 0x7F;
        } else if (length == 2) {
            hidden = byte(0) == 0xC2 && byte(1) < 0xA0; // U+0080 to U+009F
        } else if (length == 3 && byte(0) == 0xE2) {
            hidden =
                (byte(1) == 0x80 && ((byte(2) >= 0xAA && byte(2) <= 0xAE) || byte(2) == 0x8E || byte(2) == 0x8F)) ||
                (byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9);
        }
        out += hidden ? replacement : sign;
        text.remove_prefix(sign.size());
    }
    return out;
}

void print(std::string_view given) {
    const std::string text = shown(given);
    if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0) {
        throw InputError(std::string("Cannot write the result: ") + std::strerror(errno) +
                         ". Send it somewhere else or make room.");
    }
}

std::string with_plain_signs(std::string_view text) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 5> signs{
        {{"\u2212", "-"}, {"\u2013", "-"}, {"\u2014", "-"}, {"\u00a0", " "}, {"\u202f", " "}}};
    std::string out;
    while (!text.empty()) {
        const auto sign = std::ranges::find_if(signs, [&](const auto& pair) { return text.starts_with(pair.first); });
        out += sign == signs.end() ? text.substr(0, 1) : sign->second;
        text.remove_prefix(sign == signs.end() ? 1 : sign->first.size());
    }
    return out;
}

void print_text(std::string_view text) {
    print(with_plain_signs(text));
}

void warn(std::string_view text) {
    const std::string line = "retap: " + shown(text) + "\n";
    std::fputs(line.c_str(), stderr);
}

std::string time_left(double elapsed_s, std::size_t done, std::size_t total) {
    if (done == 0) {
        return "";
    }
    const double left_s = elapsed_s / static_cast<double>(done) * static_cast<double>(total - done);
    constexpr double minute = 60.0;
    if (left_s < 1.5 * minute) {
        return "about " + std::to_string(std::lround(left_s)) + " s left";
    }
    return "about " + std::to_string(std::lround(left_s / minute)) + " min left";
}

Progress::Progress(std::size_t total, std::string_view unit)
    : total_(total), unit_(unit), shown_(isatty(STDERR_FILENO) == 1), start_(std::chrono::steady_clock::now()) {}

Progress::~Progress() {
    if (shown_) {
        std::fputs("\r\033[K", stderr);
    }
}

void Progress::step() {
    const std::scoped_lock hold(lock_);
    ++done_;
    if (shown_) {
        const std::chrono::duration<double> elapsed = std::chrono::steady_clock::now() - start_;
        const std::string line = "\r\033[K" + std::to_string(done_) + " of " + std::to_string(total_) + " " +
                                 std::string(unit_) + ", " + time_left(elapsed.count(), done_, total_);
        std::fputs(line.c_str(), stderr);
        std::fflush(stderr);
    }
}

} // namespace retap::commands
