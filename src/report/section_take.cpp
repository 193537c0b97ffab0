#include "report/html_sections.hpp"
#include "report/markup.hpp"
#include "report/plots.hpp"
#include "report/reason_words.hpp"
#include "report/take_notes.hpp"
#include "report/wording.hpp"

#include <algorithm>

namespace retap::report {

namespace {

std::size_t usable_taps(const dsp::TakeAnalysis& take) {
    return static_cast<std::size_t>(
        std::count_if(take.taps.begin(), take.taps.end(), [](const dsp::Tap& tap) { return tap.usable; }));
}

void classed_list(Markup& out, std::string_view css_class, const std::vector<std::string>& lines) {
    if (lines.empty()) {
        return;
    }
    out.open("ul", {{"class", std::string(css_class)}});
    for (const std::string& line : lines) {
        out.element("li", line);
    }
    out.close("ul");
}

void left_out(Markup& out, const dsp::TakeAnalysis& take) {
    std::vector<std::string> lines;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable) {
            continue;
        }
        std::string line = "Tap at " + quantity(tap.onset_s, "s") + " left out";
        for (std::size_t i = 0; i < tap.reasons.size(); ++i) {
            line += (i == 0 ? ": " : " ") + std::string(word(tap.reasons[i]));
        }
        lines.push_back(std::move(line));
    }
    classed_list(out, "left-out", lines);
}

void turned_down(Markup& out, const dsp::TakeAnalysis& take) {
    if (take.turned_down.empty()) {
        return;
    }
    out.open("details").element("summary", count(take.turned_down.size(), "other sound was", "other sounds were") +
                                               " heard and not taken for a tap");
    std::vector<std::string> lines;
    for (const dsp::TurnedDown& event : take.turned_down) {
        lines.push_back("At " + quantity(event.at_s, "s") + ": " + std::string(word(event.reason)));
    }
    classed_list(out, "turned-down", lines);
    out.close("details");
}

std::string how_recorded(const dsp::TakeAnalysis& take) {
    std::string line = number(take.duration_s, 1) + "\u00A0s";
    if (take.sample_rate_hz > 0.0) {
        line += ", " + number(take.sample_rate_hz / 1000.0, take.sample_rate_hz == 44100.0 ? 1 : 0) + "\u00A0kHz";
    }
    line += take.channels == 2 ? ", left and right" : ", one channel";
    if (!take.taps.empty()) {
        line += ", taps " + margin_over_noise(take.fitness.snr_db) + " above the room";
    }
    return line + ".";
}

} // namespace

std::string fitness_sentence(const dsp::TakeAnalysis& take) {
    const std::size_t usable = usable_taps(take);
    if (take.taps.empty()) {
        return "No tap was heard.";
    }
    if (!take.fitness.usable) {
        return "Not fit for measuring (" + std::to_string(usable) + " of " + count(take.taps.size(), "tap", "taps") +
               " can be used).";
    }
    if (usable == take.taps.size()) {
        return "Good take: " + count(usable, "tap", "taps") + ".";
    }
    return "Good take: " + std::to_string(usable) + " of " + count(take.taps.size(), "tap", "taps") + " used.";
}

std::string take_notes(const dsp::TakeAnalysis& take) {
    Markup out;
    out.element("p", {{"class", take.fitness.usable ? "fitness fit" : "fitness unfit"}}, fitness_sentence(take));
    classed_list(out, "reasons", take.fitness.reasons);
    classed_list(out, "cautions-of-take", take.fitness.cautions);
    out.open("p", {{"class", "quiet"}});
    if (!take.file.empty()) {
        out.element("span", {{"class", "file"}}, file_label(take.file)).text(": ");
    }
    out.text(how_recorded(take)).close("p");
    left_out(out, take);
    turned_down(out, take);
    return std::move(out).str();
}

std::string take_section(const dsp::TakeAnalysis& take, const std::string& sound_link) {
    Markup out;
    out.open("section", {{"class", "take"}, {"aria-label", "The take"}});
    out.element("h2", "The take");
    out.add(take_notes(take));
    if (!sound_link.empty()) {
        out.open("audio", {{"controls", ""}, {"preload", "auto"}, {"src", sound_link}, {"aria-label", "The take"}});
        out.close("audio");
    }
    out.close("section");
    const auto figure = [&out](std::string_view css_class, const std::string& plot, std::string_view caption) {
        if (!plot.empty()) {
            out.open("figure", {{"class", std::string(css_class)}}).add(plot);
            out.element("figcaption", caption).close("figure");
        }
    };
    out.open("section", {{"class", "plots"}, {"aria-label", "Plots"}});
    figure("wide", taps_plot(take),
           "Taps laid over each other from their first contact. A thin line is one tap; the heavy line is the middle. "
           "Each is scaled to its own loudest moment.");
    figure("half", contacts_plot(take), "Contacts that can be told apart in each tap; larger is stronger.");
    figure("half", bands_plot(take), "Where the sound lies between low and high; the strongest band is 0 dB.");
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::report
