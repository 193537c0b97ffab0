// What learners reached in listening tests, kept in one small file that is only ever added to.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace retap::lesson {

/// One test. `value` is a threshold in micrometres or a d' (by `unit`); absent numbers are open or not known.
struct ListeningResult {
    std::string when;    ///< local time, "2031-05-14 10:32"
    std::string learner; ///< a label, never a name
    std::string way;     ///< "odd" or "same"
    std::string unit;    ///< "um" or "d'"
    double speed_mm_s = 0.0;
    std::size_t trials = 0;
    std::size_t right = 0;
    std::optional<double> value{};
    std::optional<double> low{};
    std::optional<double> high{};
    std::size_t retap_right = 0; ///< of the same trials
};

/// `asked` when not empty, else $XDG_DATA_HOME/retap/listening.csv, else ~/.local/share/retap/listening.csv. Throws
/// UsageError when none of these says a place.
[[nodiscard]] std::filesystem::path results_file(const std::string& asked);

/// The present local time as ListeningResult::when.
[[nodiscard]] std::string now_in_digits();

/// Throws UsageError unless it is 1 to 40 letters, digits, '.', '_' or '-'.
void check_label(const std::string& learner);

/// Adds a line in one write; makes folder and file (readable by the owner only) when they are not there. Throws
/// InputError.
void append_result(const std::filesystem::path& file, const ListeningResult& result);

/// All results, or those of one learner when that is not empty, in the order they came. Throws InputError when the file
/// is not there or not one of these.
[[nodiscard]] std::vector<ListeningResult> read_results(const std::filesystem::path& file, const std::string& learner);

/// As a CSV table with a head (RFC 4180).
[[nodiscard]] std::string results_csv(const std::vector<ListeningResult>& results);

} // namespace retap::lesson
