// What goes to the terminal: results to stdout, everything else to stderr.
#pragma once

#include <chrono>
#include <cstddef>
#include <mutex>
#include <string>
#include <string_view>

namespace retap::commands {

/// The text as a terminal may show it: UTF-8, and U+FFFD for every control code other than line feed and tab (Unicode's
/// category Cc) and for the marks that change the direction of writing (UAX #9). A name that holds such codes could
/// otherwise move the cursor, hide what is said of it, or worse.
[[nodiscard]] std::string shown(std::string_view text);
/// Writes a result to stdout, all of it, at once, without what could steer a terminal (shown()). Throws InputError when
/// it cannot be written (a full disk, a closed output).
void print(std::string_view text);
/// The same for text that people read: with_plain_signs.
void print_text(std::string_view text);
/// The typographic minus, dash and no-break space of the reports as the keys of a keyboard make them, so that what is
/// printed can be searched for and cut up.
[[nodiscard]] std::string with_plain_signs(std::string_view text);
/// Writes a diagnostic to stderr.
void warn(std::string_view text);

/// How far a long run has come, with an estimate of what is left, in one line on stderr that writes over itself. Silent
/// when stderr is not a terminal. step() may be called from several threads.
class Progress {
public:
    /// `unit` is what is counted, as in "12 of 340 takes".
    Progress(std::size_t total, std::string_view unit);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    Progress(Progress&&) = delete;
    Progress& operator=(Progress&&) = delete;

    void step();

private:
    std::size_t total_;
    std::string_view unit_;
    bool shown_;
    std::chrono::steady_clock::time_point start_;
    std::mutex lock_;
    std::size_t done_ = 0;
};

/// "about 2 min left"; a part of Progress that can be tested.
[[nodiscard]] std::string time_left(double elapsed_s, std::size_t done, std::size_t total);

} // namespace retap::commands
