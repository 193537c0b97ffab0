#include "report/plots.hpp"
#include "report/svg_frame.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace retap::report {

namespace {

constexpr std::size_t max_rows = 8; // the report of a visit prints on two pages with so many
constexpr double row_height = 14.0;
constexpr double group_gap = 14.0;

std::vector<const dsp::Tap*> rows_of(const dsp::TakeAnalysis& take) {
    std::vector<const dsp::Tap*> rows;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable && !tap.contacts.empty() && rows.size() < max_rows) {
            rows.push_back(&tap);
        }
    }
    return rows;
}

double last_contact(const std::vector<const dsp::Tap*>& rows) {
    double last = 0.0;
    for (const dsp::Tap* tap : rows) {
        for (const dsp::Contact& contact : tap->contacts) {
            last = std::isfinite(contact.at_ms) ? std::max(last, contact.at_ms) : last;
        }
    }
    return last;
}

/// Median onset spread over the usable taps.
std::optional<double> middle_spread(const dsp::TakeAnalysis& take) {
    std::vector<double> spreads;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable && !tap.contacts.empty() && std::isfinite(tap.onset_spread_ms)) {
            spreads.push_back(tap.onset_spread_ms);
        }
    }
    if (spreads.empty()) {
        return std::nullopt;
    }
    std::sort(spreads.begin(), spreads.end());
    const std::size_t half = spreads.size() / 2;
    return spreads.size() % 2 == 1 ? spreads[half] : (spreads[half - 1] + spreads[half]) / 2.0;
}

void draw_row(Markup& out, Side side, const dsp::Tap& tap, const Scale& x, double y) {
    double last = 0.0;
    for (const dsp::Contact& contact : tap.contacts) {
        last = std::max(last, contact.at_ms);
    }
    polyline(out, "span", {{x(0.0), y}, {x(last), y}});
    for (const dsp::Contact& contact : tap.contacts) {
        // Area by strength; the floor keeps a weak contact visible.
        mark(out, side, x(contact.at_ms), y, 2.0 + 4.0 * std::sqrt(std::clamp(contact.strength, 0.0, 1.0)));
    }
}

std::string spread_words(double spread_ms) {
    return spread_ms > 0.0 ? "spread " + quantity(spread_ms, "ms") : "mostly one contact";
}

struct Group {
    Side side;
    std::string name;
    std::vector<const dsp::Tap*> rows;
    std::optional<double> spread;
};

std::string draw(const std::vector<Group>& groups) {
    double last = 0.5; // a balanced bite would otherwise fill the axis with a few microseconds
    std::size_t row_count = 0;
    for (const Group& group : groups) {
        last = std::max(last, last_contact(group.rows));
        row_count += group.rows.size();
    }
    if (row_count == 0) {
        return {};
    }
    const double gaps = group_gap * static_cast<double>(groups.size() + 1);
    const double area = row_height * static_cast<double>(row_count) + gaps + 18.0 * static_cast<double>(groups.size());
    const Frame frame{.width = 480, .height = 8 + area + 44, .left = 66, .right = 468, .top = 8, .bottom = 8 + area};
    const Scale x{-0.04 * last, last * 1.06, frame.left, frame.right};

    Markup out;
    std::string told = "When contacts were heard inside each tap, in milliseconds from the first";
    for (const Group& group : groups) {
        if (group.spread) {
            told += ". " + (group.name.empty() ? std::string("Middle: ") : group.name + ", middle: ") +
                    spread_words(*group.spread);
        }
    }
    open_drawing(out, frame, "contacts", "Contacts inside each tap", told);
    horizontal_axis(out, frame, x, linear_ticks(0.0, last, 5), "Time from first contact, ms");
    double y = frame.top + group_gap / 2;
    for (const Group& group : groups) {
        if (group.rows.empty()) {
            label(out, frame.left - 10, y + 17, "end", "side " + std::string(css(group.side)), group.name);
            label(out, frame.left + 12, y + 17, "start", "tick", "not resolved: no usable tap");
            y += group_gap + 18.0;
            continue;
        }
        const double start = y;
        y += row_height / 2 + 3;
        label(out, frame.left - 10, y + 5, "end", "side " + std::string(css(group.side)), group.name);
        out.open("g", {{"class", std::string(css(group.side))}});
        for (const dsp::Tap* tap : group.rows) {
            draw_row(out, group.side, *tap, x, y);
            y += row_height;
        }
        if (group.spread) {
            const double at = x(std::min(*group.spread, x.to_value));
            polyline(out, "spread", {{at, start}, {at, y + 2}});
            // The label goes to whichever side of its line has room.
            const bool left = at > frame.right - 120;
            label(out, left ? at - 5 : at + 5, y + 8, left ? "end" : "start", "tick", spread_words(*group.spread));
        }
        out.close("g");
        y += 18.0 + group_gap - row_height / 2 - 3;
    }
    out.close("svg");
    return std::move(out).str();
}

} // namespace

std::string contacts_plot(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after) {
    return draw({{Side::before, "Before", rows_of(before), middle_spread(before)},
                 {Side::after, "After", rows_of(after), middle_spread(after)}});
}

std::string contacts_plot(const dsp::TakeAnalysis& take) {
    return draw({{Side::before, "", rows_of(take), middle_spread(take)}});
}

} // namespace retap::report
