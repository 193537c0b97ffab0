// How well the second arrival is timed, and how often it is seen at all.
#include "dsp/base/statistics.hpp"
#include "validate/chart.hpp"
#include "validate/section.hpp"
#include "validate/text_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace retap::validate {

namespace {

// Taps of one source with a gap in one band, summed up.
struct GapBand {
    double low_ms = 0.0;
    double high_ms = 0.0;
    Share resolved{};
    double error_us = std::nan("");   ///< median of the absolute error of those resolved
    double scatter_us = std::nan(""); ///< robust standard deviation, which compares with the bound
    double bound_us = std::nan("");   ///< median
};

GapBand sum_up(std::span<const ContactResult> contacts, std::string_view source, double low_ms, double high_ms) {
    std::vector<double> errors;
    std::vector<double> sizes;
    std::vector<double> bounds;
    double of = 0.0;
    for (const ContactResult& contact : contacts) {
        if (contact.source != source || contact.gap_ms < low_ms || contact.gap_ms >= high_ms) {
            continue;
        }
        of += 1.0;
        bounds.push_back(1e3 * contact.bound_ms);
        if (contact.error_ms) {
            errors.push_back(1e3 * *contact.error_ms);
            sizes.push_back(std::abs(errors.back()));
        }
    }
    GapBand band{.low_ms = low_ms, .high_ms = high_ms, .resolved = share(static_cast<double>(errors.size()), of)};
    if (!errors.empty()) {
        band.error_us = dsp::median(sizes);
        band.scatter_us = dsp::robust_scatter(errors);
    }
    if (!bounds.empty()) {
        band.bound_us = dsp::median(bounds);
    }
    return band;
}

std::vector<GapBand> bands_of(std::span<const ContactResult> contacts, std::string_view source) {
    std::vector<GapBand> bands;
    for (std::size_t b = 0; b + 1 < gap_edges_ms.size(); ++b) {
        bands.push_back(sum_up(contacts, source, gap_edges_ms.at(b), gap_edges_ms.at(b + 1)));
    }
    bands.push_back(sum_up(contacts, source, gap_edges_ms.front(), 1e9));
    return bands;
}

TextTable gap_table(const std::vector<GapBand>& bands) {
    TextTable table{.head = {"gap (ms)", "taps", "resolved", "median error (µs)", "scatter (µs)", "bound (µs)"}};
    for (const GapBand& band : bands) {
        table.rows.push_back({&band == &bands.back() ? "all" : fixed(band.low_ms, 2) + " to " + fixed(band.high_ms, 2),
                              fixed(band.resolved.of, 0), percent(band.resolved), fixed(band.error_us, 1),
                              fixed(band.scatter_us, 1), fixed(band.bound_us, 2)});
    }
    return table;
}

NamedFile error_plot(const std::vector<GapBand>& double_strikes, const std::vector<GapBand>& high_spots) {
    LineChart chart{.title = "Timing of the second arrival (simulated)",
                    .description = "Scatter of the timing error and the Cramer-Rao bound by gap between the arrivals.",
                    .x = {.caption = "gap between first and second arrival (ms)",
                          .low = 0.3,
                          .high = 5.0,
                          .ticks = {{0.3, "0.3"}, {0.5, "0.5"}, {1, "1"}, {2, "2"}, {5, "5"}},
                          .kind = report::Scale::Kind::logarithmic},
                    .y = {.caption = "standard deviation (µs)",
                          .low = 0.01,
                          .high = 200.0,
                          .ticks = {{0.01, "0.01"}, {0.1, "0.1"}, {1, "1"}, {10, "10"}, {100, "100"}},
                          .kind = report::Scale::Kind::logarithmic}};
    const auto add = [&](const std::vector<GapBand>& bands, const std::string& what) {
        Series found{.name = "Retap, " + what, .main = true};
        Series bound{.name = "bound, " + what};
        for (std::size_t b = 0; b + 1 < bands.size(); ++b) { // the last stands for all gaps
            const double middle = std::sqrt(bands[b].low_ms * bands[b].high_ms);
            found.points.push_back({middle, bands[b].scatter_us, bands[b].scatter_us, bands[b].scatter_us});
            bound.points.push_back({middle, bands[b].bound_us, bands[b].bound_us, bands[b].bound_us});
        }
        chart.series.push_back(std::move(found));
        chart.series.push_back(std::move(bound));
    };
    add(double_strikes, "double strikes");
    add(high_spots, "high spots");
    return {.name = "contacts.svg", .content = draw(chart)};
}

NamedFile all_contacts(std::span<const ContactResult> contacts) {
    TextTable table{.head = {"source", "patient", "gap_ms", "contacts_heard", "error_ms", "bound_ms"}};
    for (const ContactResult& contact : contacts) {
        table.rows.push_back({contact.source, std::to_string(contact.patient), fixed(contact.gap_ms, 5),
                              std::to_string(contact.heard), contact.error_ms ? fixed(*contact.error_ms, 5) : "",
                              contact.bound_ms > 0.0 ? fixed(contact.bound_ms, 7) : ""});
    }
    return {.name = "contacts.csv", .content = csv(table)};
}

Share heard_as_one(std::span<const ContactResult> contacts) {
    double one = 0.0;
    double of = 0.0;
    for (const ContactResult& contact : contacts) {
        of += contact.source == "single strike" ? 1.0 : 0.0;
        one += contact.source == "single strike" && contact.heard <= 1 ? 1.0 : 0.0;
    }
    return share(one, of);
}

} // namespace

Section contacts_section(std::span<const ContactResult> contacts) {
    const auto strikes = bands_of(contacts, "double strike");
    const auto spots = bands_of(contacts, "high spot");
    Section section{.title = "Contact times"};
    section.text =
        R"(Where Retap puts the second arrival of a tap, against the truth. Resolved: it reports a contact within )" +
        fixed(contact_reach_ms, 2) + R"( ms of it;
errors are those of the resolved ones. Bound: Cramer-Rao for the gap at the same noise and bandwidth, one tap alone, the
sound of a contact known and both times and strengths unknown. Retap is not told the sound, and no two contacts here sound
quite alike, so the bound is out of reach; it says how much the noise alone would leave.

### Recorded strikes played twice

)" + markdown(gap_table(strikes)) +
        "\nThe same strikes played once: heard as one contact in " + percent(heard_as_one(contacts)) + R"( of the taps.

### High spots of 50, 100 and 200 µm, modal family

First arrival against the next pair's, where they are )" +
        fixed(min_gap_ms, 1) + " ms or more apart.\n\n" + markdown(gap_table(spots));
    section.plots.push_back(error_plot(strikes, spots));
    section.numbers.push_back(all_contacts(contacts));
    return section;
}

} // namespace retap::validate
