// What a comparison of two takes says. Plain values, filled by compare_takes and read by commands, report and page.
#pragma once

#include "dsp/base/take.hpp"

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::compare {

struct CompareSettings; // compare/compare_takes.hpp

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

/// The unit of a measure that takes both sides, has no value of either, and is told as a ratio (`landing`).
inline constexpr std::string_view times_the_usual = "times the usual";

/// The measure of that name; null when it was not taken.
[[nodiscard]] const MeasureComparison* measure_named(std::span<const MeasureComparison> measures,
                                                     std::string_view name);

/// The kinds of evidence that decide.
enum class EvidenceKind {
    landing,        ///< how the contacts land (dsp/landing/landing)
    first_sound,    ///< by how much the first sound comes before the main impact (dsp/landing/first_sound)
    energy_profile, ///< when the energy comes (dsp/landing/energy_profile)
    later_contacts, ///< contacts told apart, and their spread (dsp/contacts)
    level,          ///< of the taps, at one setting
};
[[nodiscard]] std::string_view word(EvidenceKind kind);

/// What one kind says: the logarithm (nats) of how many times as large its figure is as in the middle of unchanged
/// bites.
struct Evidence {
    EvidenceKind kind{};
    double weight = 0.0;
    bool spoke = false; ///< it alone says more than is usual
};

/// The sum of all kinds, with the interval that the taps leave open.
struct SummedEvidence {
    double value = 0.0;
    double low = 0.0;
    double high = 0.0;
};

/// The whole answer. `before` and `after` are the first take of each side.
struct Comparison {
    Likeness likeness;              ///< `no_likeness` when the takes are not fit for measuring
    std::vector<Evidence> evidence; ///< each kind that could be had; none where nothing can be said
    SummedEvidence sum;
    bool same_sound = false; ///< both sides hold one recording: nothing was compared
    Verdict verdict = Verdict::unclear;
    std::string sentence;             ///< the verdict as one sentence
    std::vector<std::string> reasons; ///< why, and for `unclear` what would settle it
    std::vector<MeasureComparison> measures;
    dsp::TakeAnalysis before;
    dsp::TakeAnalysis after;
    std::shared_ptr<const CompareSettings> settings; ///< that were in force; none in one that nobody computed
};

} // namespace retap::compare
