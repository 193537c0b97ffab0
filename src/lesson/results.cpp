#include "lesson/results.hpp"

#include "error.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <fcntl.h>
#include <fstream>
#include <sstream>
#include <sys/stat.h>
#include <unistd.h>

namespace retap::lesson {
namespace {

constexpr const char* format_line = "# retap.listening/1\n";
constexpr const char* head = "when,learner,way,closing_speed_mm_s,trials,right,value,unit,low,high,retap_right\n";

std::string cell(const std::optional<double>& value) {
    constexpr int decimals = 2; // a hundredth of a micrometre or of a d'; never negative
    return value ? report::number(*value, decimals) : "";
}

std::string line_of(const ListeningResult& r) {
    return r.when + "," + r.learner + "," + r.way + "," + report::number(r.speed_mm_s, 1) + "," +
           std::to_string(r.trials) + "," + std::to_string(r.right) + "," + cell(r.value) + "," + r.unit + "," +
           cell(r.low) + "," + cell(r.high) + "," + std::to_string(r.retap_right) + "\n";
}

InputError trouble(const std::filesystem::path& file) {
    return InputError("Cannot keep the result in '" + file.string() + "': " + std::strerror(errno) +
                      ". Check that you may write there, or name another file.");
}

} // namespace

std::filesystem::path results_file(const std::string& asked) {
    if (!asked.empty()) {
        return asked;
    }
    if (const char* data = std::getenv("XDG_DATA_HOME");
        data != nullptr && std::filesystem::path(data).is_absolute()) { // the specification says to ignore others
        return std::filesystem::path(data) / "retap" / "listening.csv";
    }
    if (const char* home = std::getenv("HOME"); home != nullptr && *home != '\0') {
        return std::filesystem::path(home) / ".local" / "share" / "retap" / "listening.csv";
    }
    throw UsageError("There is no home folder to keep results in. Name a file with --results.");
}

std::string now_in_digits() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    char text[32];
    return {text, std::strftime(text, sizeof text, "%Y-%m-%d %H:%M", &local)};
}

void check_label(const std::string& learner) {
    constexpr std::size_t longest = 40;
    // What begins with a minus is a formula to a spreadsheet.
    const bool fits = !learner.empty() && learner[0] != '-' && learner.size() <= longest &&
                      std::all_of(learner.begin(), learner.end(), [](unsigned char c) {
                          return std::isalnum(c) != 0 || c == '.' || c == '_' || c == '-';
                      });
    if (!fits) {
        throw UsageError("'" + learner +
                         "' is no label: use letters, digits, '.', '_' and '-' (not first), 40 at most. A label, "
                         "not a name.");
    }
}

void append_result(const std::filesystem::path& file, const ListeningResult& result) {
    if (file.has_parent_path()) {
        std::error_code ignored; // opening says what is wrong
        std::filesystem::create_directories(file.parent_path(), ignored);
    }
    const int descriptor = open(file.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (descriptor < 0) {
        throw trouble(file);
    }
    struct stat found {};
    const bool fresh = fstat(descriptor, &found) == 0 && found.st_size == 0;
    const std::string text = (fresh ? format_line : "") + line_of(result);
    const bool written =
        write(descriptor, text.data(), text.size()) == static_cast<ssize_t>(text.size()) && fsync(descriptor) == 0;
    const bool closed = close(descriptor) == 0;
    if (!written || !closed) {
        throw trouble(file);
    }
}

namespace {

std::vector<std::string> cells_of(const std::string& line) {
    std::vector<std::string> cells;
    std::istringstream stream(line + ","); // so that an empty last cell counts
    for (std::string one; std::getline(stream, one, ',');) {
        cells.push_back(one);
    }
    return cells;
}

template <class Number>
std::optional<Number> number_in(const std::string& cell) {
    Number value{};
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    return error == std::errc() && end == cell.data() + cell.size() ? std::optional(value) : std::nullopt;
}

/// False when there is something in the cell that is no number; an empty one leaves `value` open.
bool read_open(const std::string& cell, std::optional<double>& value) {
    value = number_in<double>(cell);
    return cell.empty() || (value && std::isfinite(*value));
}

/// Nothing when it is no line of these.
std::optional<ListeningResult> result_of(const std::string& line) {
    const auto cells = cells_of(line);
    constexpr std::size_t columns = 11;
    if (cells.size() != columns) {
        return std::nullopt;
    }
    const auto speed = number_in<double>(cells[3]);
    const auto trials = number_in<std::size_t>(cells[4]);
    const auto right = number_in<std::size_t>(cells[5]);
    const auto retap_right = number_in<std::size_t>(cells[10]);
    std::optional<double> value;
    std::optional<double> low;
    std::optional<double> high;
    const bool open_ones = read_open(cells[6], value) && read_open(cells[8], low) && read_open(cells[9], high);
    if (!speed || !std::isfinite(*speed) || !trials || !right || !retap_right || !open_ones) {
        return std::nullopt;
    }
    return ListeningResult{.when = cells[0],
                           .learner = cells[1],
                           .way = cells[2],
                           .unit = cells[7],
                           .speed_mm_s = *speed,
                           .trials = *trials,
                           .right = *right,
                           .value = value,
                           .low = low,
                           .high = high,
                           .retap_right = *retap_right};
}

} // namespace

std::vector<ListeningResult> read_results(const std::filesystem::path& file, const std::string& learner) {
    std::ifstream stream(file);
    std::string line;
    if (!stream || !std::getline(stream, line) || line + "\n" != format_line) {
        throw InputError("Cannot read results from '" + file.string() +
                         "': there is no such file, or it holds something else. Results come from: retap lesson test "
                         "--learner LABEL");
    }
    std::vector<ListeningResult> results;
    while (std::getline(stream, line)) {
        const auto result = result_of(line);
        if (!result) {
            throw InputError("Cannot read results from '" + file.string() + "': the line '" + line +
                             "' is damaged. Correct or delete that line.");
        }
        if (learner.empty() || result->learner == learner) {
            results.push_back(*result);
        }
    }
    return results;
}

std::string results_csv(const std::vector<ListeningResult>& results) {
    std::string table = head;
    for (const ListeningResult& result : results) {
        table += line_of(result);
    }
    return table;
}

} // namespace retap::lesson
