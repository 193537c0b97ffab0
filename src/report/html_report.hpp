// The report: one HTML file with its style, plots and sounds inside. It opens in any browser, fetches nothing, and
// prints on a page or two.
#pragma once

#include "compare/comparison.hpp"

#include <optional>
#include <string>

namespace retap::report {

/// An encoded sound file, carried as it is. The media type is what a browser is told, e.g. "audio/wav", "audio/flac".
struct Sound {
    std::string media_type;
    std::string bytes;
};

/// The sounds of both sides; an absent one is shown as missing.
struct ReportSounds {
    std::optional<Sound> before;
    std::optional<Sound> after;
};

/// What stands at the head and foot of a report. The report reads no clock: the caller says when it was made.
struct ReportHeading {
    std::string title;   ///< e.g. "Bite sound before and after"
    std::string when;    ///< as it shall be read, e.g. "14 May 2031, 10:32"; may be empty
    std::string program; ///< e.g. "Retap 0.1.0"; may be empty
};

/// A comparison as a self-contained HTML document (UTF-8). Every text that comes from outside is escaped. Works for
/// takes that are not fit, takes without taps, and one side with fewer channels than the other.
[[nodiscard]] std::string comparison_report(const compare::Comparison& comparison, const ReportSounds& sounds,
                                            const ReportHeading& heading);

/// One take by itself as a self-contained HTML document.
[[nodiscard]] std::string take_report(const dsp::TakeAnalysis& take, const std::optional<Sound>& sound,
                                      const ReportHeading& heading);

} // namespace retap::report
