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

std::string plain_energy_profile(Finding finding) {
    switch (finding) {
    case Finding::within:
        return "The sound of a tap swells and fades in the time it did.";
    case Finding::beyond:
        return "The sound of a tap swells and fades in another time than it did.";
    case Finding::unclear:
        break;
    }
    return "Whether the sound of a tap swells and fades in the time it did cannot be told from these taps.";
}

std::string plain_later_contacts(const LaterContacts& contacts) {
    const auto ms = [](double value) { return number(value, 2) + " ms"; };
    if (contacts.weight <= 0.0) {
        return "The contacts that can be told apart come as they did.";
    }
    if (contacts.before_ms == 0.0) {
        return "A later contact is heard " + ms(contacts.after_ms) + " after the first; before, it was a single one.";
    }
    if (contacts.after_ms == 0.0) {
        return "A single contact is heard; before, another one came " + ms(contacts.before_ms) + " later.";
    }
    const bool longer = contacts.after_ms > contacts.before_ms;
    return std::string("The contacts are ") + (longer ? "drawn out" : "closer together") + ": the last one comes " +
           ms(contacts.after_ms) + " after the first, and came " + ms(contacts.before_ms) + " after it.";
}

std::string plain_level(const LevelEvidence& level) {
    const double change = level.after_db - level.before_db;
    return "The taps are " + number(change, 0) + (change < 0.0 ? " dB softer" : " dB louder") +
           " than before at the same setting: tapped " +
           (change < 0.0 ? "more softly, or only one tooth meets." : "harder, or more teeth meet.");
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

} // namespace retap::compare
