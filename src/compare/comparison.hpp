// What a comparison of two takes says. Plain values, filled by compare_takes and read by commands, report and page.
#pragma once

#include "dsp/base/take.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace retap::compare {

enum class Verdict { alike, different, unclear };
enum class Finding { within, beyond, unclear };

[[nodiscard]] std::string_view word(Verdict verdict);
[[nodiscard]] std::string_view word(Finding finding);

/// How alike two takes are, 0 to 100, with the interval that the taps on both sides leave open.
struct Likeness {
    double score = 0.0;
    double low = 0.0;
    double high = 0.0;
};

/// What stands for the likeness where nothing is known of it: the takes are not fit for measuring.
inline constexpr Likeness no_likeness{.score = 50.0, .low = 0.0, .high = 100.0};
/// Whether it tells anything. `no_likeness` does not, whoever kept it.
[[nodiscard]] constexpr bool tells(const Likeness& likeness) {
    return likeness.low > 0.0 || likeness.high < 100.0;
}

/// One measure, before and after.
struct MeasureComparison {
    std::string name; ///< as in JSON, e.g. "onset_spread"
    std::string unit; ///< e.g. "ms"; empty for a plain number
    dsp::Summary before;
    dsp::Summary after;
    double difference = 0.0; ///< after minus before
    double low = 0.0;        ///< interval of the difference
    double high = 0.0;
    double tolerance = 0.0; ///< differences within +-tolerance count as the same
    bool decides = false;   ///< false: shown, but does not decide the verdict by itself
    Finding finding = Finding::unclear;
    std::string plain; ///< one sentence a clinician understands
};

/// The whole answer. `before` and `after` are the first take of each side.
struct Comparison {
    Likeness likeness;
    Verdict verdict = Verdict::unclear;
    std::string sentence;             ///< the verdict as one sentence
    std::vector<std::string> reasons; ///< why, and for `unclear` what would settle it
    std::vector<MeasureComparison> measures;
    dsp::TakeAnalysis before;
    dsp::TakeAnalysis after;
};

/// The likeness to show and to keep: `no_likeness` unless both takes are fit for measuring.
[[nodiscard]] Likeness shown_likeness(const Comparison& comparison);

} // namespace retap::compare
