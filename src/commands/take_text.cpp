#include "take_text.hpp"

#include "columns.hpp"
#include "compare/compare_takes.hpp"
#include "report/measure_cells.hpp"
#include "report/reason_words.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <map>

namespace retap::commands {
namespace {

using report::number;
using report::quantity;

std::string reasons_of(const std::vector<std::string>& parts) {
    std::string out;
    for (const std::string& part : parts) {
        out += (out.empty() ? "" : " ") + part;
    }
    return out;
}

/// One impact has no spread; that nearer ones would have been taken for it is said below the table.
std::string spread_text(const dsp::Tap& tap) {
    if (tap.contacts.empty()) {
        return "not resolved";
    }
    return tap.contacts.size() == 1 ? "one" : number(tap.onset_spread_ms, 3);
}

/// The longest of the taps, so that it holds for each of them.
std::string resolution_text(const dsp::TakeAnalysis& take) {
    double resolution_ms = 0.0;
    for (const dsp::Tap& tap : take.taps) {
        resolution_ms = std::max(resolution_ms, tap.resolution_ms);
    }
    return resolution_ms > 0.0 ? "  Contacts nearer than " + quantity(resolution_ms, "ms") +
                                     " to each other, or much weaker than the strongest, count as one.\n"
                               : "";
}

std::string taps_text(const dsp::TakeAnalysis& take) {
    using enum Columns::Align;
    const bool two_sided = take.channels == 2;
    std::vector<Columns::Align> alignments(two_sided ? 8 : 7, right);
    alignments.push_back(left);
    Columns columns(std::move(alignments));
    std::vector<std::string> head{"tap", "at s", "contacts", "spread ms", "rise ms", "lasts ms", "peak dBFS"};
    if (two_sided) {
        head.emplace_back("left leads ms");
    }
    columns.add(std::move(head));
    std::size_t n = 0;
    for (const dsp::Tap& tap : take.taps) {
        std::vector<std::string> row{std::to_string(++n),
                                     number(tap.onset_s, 3),
                                     tap.contacts.empty() ? "" : std::to_string(tap.contacts.size()),
                                     spread_text(tap),
                                     tap.measured ? number(tap.rise_ms, 2) : "",
                                     tap.measured ? number(tap.duration_ms, 1) : "",
                                     number(tap.peak_dbfs, 1)};
        if (two_sided) {
            row.push_back(tap.left_lead_ms ? number(*tap.left_lead_ms, 3) : "");
        }
        row.push_back(tap.usable ? "" : "left out: " + reasons_of(report::words(tap.reasons)));
        columns.add(std::move(row));
    }
    return columns.text("  ") + resolution_text(take);
}

std::string signature_text(const dsp::TakeAnalysis& take) {
    using enum Columns::Align;
    const auto signature = compare::signature_of(take);
    if (signature.empty()) {
        return "";
    }
    Columns columns({left, right, right, right});
    columns.add({"measure", "middle", "scatter", "taps"});
    for (const compare::SignatureEntry& entry : signature) {
        columns.add({report::measure_label(entry.name), report::middle_text(entry.name, entry.summary, entry.unit),
                     report::scatter_text(entry.name, entry.summary, entry.unit), std::to_string(entry.summary.n)});
    }
    return "\nOver the usable taps\n" + columns.text("  ");
}

/// Many events are turned down for the same reason; one line each.
std::string turned_down_text(const dsp::TakeAnalysis& take) {
    if (take.turned_down.empty()) {
        return "";
    }
    constexpr std::size_t times_shown = 5;
    std::map<std::string, std::vector<double>> by_reason;
    for (const dsp::TurnedDown& event : take.turned_down) {
        by_reason[std::string(report::word(event.reason))].push_back(event.at_s);
    }
    std::string out = "\nHeard and not counted as taps: " + std::to_string(take.turned_down.size()) + "\n";
    for (const auto& [reason, times] : by_reason) {
        out += "  " + std::to_string(times.size()) + " x " + reason + " (at ";
        for (std::size_t i = 0; i < std::min(times.size(), times_shown); ++i) {
            out += (i == 0 ? "" : ", ") + number(times[i], 2);
        }
        out += times.size() > times_shown ? ", ... s)\n" : " s)\n";
    }
    return out;
}

} // namespace

std::string recording_text(const dsp::TakeAnalysis& take) {
    return number(take.duration_s, 1) + " s, " + number(take.sample_rate_hz, 0) + " Hz, " +
           (take.channels == 1 ? "one channel" : "left and right");
}

std::string fitness_text(const dsp::TakeAnalysis& take) {
    const auto usable = std::ranges::count_if(take.taps, [](const dsp::Tap& tap) { return tap.usable; });
    const std::string taps = take.taps.empty() ? "no taps"
                                               : std::to_string(usable) + " of " +
                                                     report::count(take.taps.size(), "tap", "taps") + " can be used";
    // Taps that can be used do not yet make a fit take, so they are no reason for "not fit".
    std::string out = take.fitness.usable ? "FIT to compare: " + taps + ".\n" : "NOT FIT to compare (" + taps + ").\n";
    for (const std::string& reason : take.fitness.reasons) {
        out += "  " + reason + "\n";
    }
    for (const std::string& caution : take.fitness.cautions) {
        out += "  Note: " + caution + "\n";
    }
    if (!take.taps.empty()) {
        out += "  Taps stand " + report::margin_over_noise(take.fitness.snr_db) + " above the noise (" +
               report::noise_level(take.fitness.noise_dbfs) + ")";
        out += take.fitness.bandwidth_hz > 0.0 ? ", up to " + quantity(take.fitness.bandwidth_hz, "Hz") + ".\n" : ".\n";
    }
    return out;
}

std::string take_text(const dsp::TakeAnalysis& take) {
    std::string out = take.file + ": " + recording_text(take) + "\n" + fitness_text(take);
    if (!take.taps.empty()) {
        out += "\n" + taps_text(take) + signature_text(take);
    }
    return out + turned_down_text(take);
}

} // namespace retap::commands
