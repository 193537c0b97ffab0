#include "terminal.hpp"

#include "error.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <unistd.h>
#include <utility>

namespace retap::commands {

void print(std::string_view text) {
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
    const std::string line = "retap: " + std::string(text) + "\n";
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
