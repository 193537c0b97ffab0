#include "compare/plain_words.hpp"

#include <array>
#include <cmath>
#include <string_view>

namespace retap::compare {
namespace {

std::string number(double value, int decimals) {
    double scale = 1.0;
    for (int i = 0; i < decimals; ++i) {
        scale *= 10.0;
    }
    const auto whole = static_cast<long long>(std::llround(std::abs(value) * scale));
    std::string digits = std::to_string(whole);
    const auto places = static_cast<std::size_t>(decimals);
    if (digits.size() <= places) {
        digits.insert(0, places + 1 - digits.size(), '0');
    }
    if (places > 0) {
        digits.insert(digits.size() - places, ".");
    }
    return digits;
}

/// How a measure is spoken of: what it is, and the words for less and for more of it.
struct Wording {
    std::string_view name;
    std::string_view subject;
    std::string_view less;
    std::string_view more;
    int decimals;
};

constexpr std::array<Wording, 10> wordings{{
    {"onset_spread", "From first to last contact", "shorter", "longer", 2},
    {"contacts", "Contacts that can be told apart", "fewer", "more", 1},
    {"rise", "The sound's rise to its peak", "faster", "slower", 2},
    {"duration", "How long it sounds", "shorter", "longer", 1},
    {"decay", "Its dying away", "faster", "slower", 0},
    {"peak", "Its peak", "softer", "louder", 1},
    {"energy", "Its energy", "lower", "higher", 1},
    {"centroid", "Its pitch", "lower", "higher", 0},
    {"left_lead", "The left side's lead", "smaller", "larger", 3},
    {"left_excess", "Left over right", "weaker", "stronger", 1},
}};

} // namespace

std::string plain_landing(Finding finding) {
    switch (finding) {
    case Finding::within:
        return "The contacts land in the same order and rhythm as before, as far as can be heard.";
    case Finding::beyond:
        return "The contacts land differently from before.";
    case Finding::unclear:
        break;
    }
    return "Whether the contacts land as before cannot be told from these taps.";
}

std::string plain_recoloured() {
    return "The taps sound different, but no contact is heard earlier or later than before.";
}

std::string plain_first_sound(const MeasureComparison& measure) {
    switch (measure.finding) {
    case Finding::within:
        return "The first contact leads the main impact by as much as it did.";
    case Finding::beyond:
        return "The first contact leads the main impact by " + number(measure.difference, 2) +
               (measure.difference > 0.0 ? " ms more than it did, as a high spot would." : " ms less than it did.");
    case Finding::unclear:
        break;
    }
    return "Whether the first contact leads the main impact by more or less than it did cannot be told from these "
           "taps.";
}

std::string plain_measure(const MeasureComparison& measure) {
    if (measure.name == "onset_spread" && measure.before.middle == 0.0 && measure.after.middle == 0.0) {
        return "From first to last contact: not resolved on either side; most taps show one contact.";
    }
    for (const Wording& w : wordings) {
        if (w.name != measure.name) {
            continue;
        }
        if (measure.low <= 0.0 && measure.high >= 0.0) {
            return std::string(w.subject) + ": no clear change.";
        }
        const std::string_view way = measure.difference < 0.0 ? w.less : w.more;
        return std::string(w.subject) + ": " + std::string(way) + " by " + number(measure.difference, w.decimals) +
               (measure.unit.empty() ? "" : " " + (measure.unit == "dBFS" ? std::string("dB") : measure.unit)) + ".";
    }
    return {};
}

std::string verdict_sentence(Verdict verdict) {
    switch (verdict) {
    case Verdict::alike:
        return "The bite sounds alike before and after.";
    case Verdict::different:
        return "The bite sounds different after.";
    case Verdict::unclear:
        break;
    }
    return "It is unclear whether the bite sounds alike.";
}

std::vector<std::string> verdict_reasons(Verdict verdict, const Grounds& grounds) {
    if (verdict == Verdict::alike) {
        return {"The taps after differ from those before no more than taps of one bite differ from each other.",
                "Alike in sound does not prove equal contact: check film and marks as well."};
    }
    if (verdict == Verdict::different) {
        return {"The taps after have a timing in common that those before have not.",
                "A difference in sound does not show where it comes from: look at film and marks. A changed posture or "
                "effort, or "
                "the first taps of a run, can sound different too."};
    }
    std::vector<std::string> reasons;
    if (grounds.recoloured) {
        reasons.emplace_back("The taps sound different, but their first contact leads by as much as it did: a pick-up "
                             "that sits differently can do that.");
    } else if (grounds.dull) {
        reasons.emplace_back(
            "These taps are too dull to show contacts that land apart: seat the pick-up firmly on skin "
            "over bone, and record again.");
    } else if (grounds.deep_enough) {
        reasons.emplace_back("The difference is near the limit of what taps of one bite can show by chance.");
    } else {
        reasons.emplace_back(
            "A light first contact, such as a high spot makes, would be lost in the noise of these taps.");
    }
    if (grounds.taps < 12) {
        reasons.emplace_back("More taps would settle it: record 12 or more on each side, same seat, same effort.");
    }
    if (grounds.snr_db < 34.0 || !grounds.deep_enough) {
        reasons.emplace_back(
            "A quieter room would help: suction and handpiece off, or the pick-up pressed more firmly.");
    }
    if (!grounds.repeated) {
        reasons.emplace_back(
            "A repeat of the first side with the pick-up taken off and put back shows how much that alone changes.");
    }
    return reasons;
}

} // namespace retap::compare
