// The teeth of one look in two rows, as inline SVG: film between the rows, marks on the teeth. Everything that means
// something is a shape or a word, so that it reads in grey; style.css gives the colours.
#pragma once

#include "chart/changes.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::report {

/// What a chart shows. `changes` against the baseline add a minus at holds that were lost and a plus at those gained.
struct ToothChart {
    std::string title; ///< for readers of the text, e.g. "after2"
    chart::LookCharts charts;
    std::vector<chart::Tooth> treated;
    chart::Numbering numbering = chart::Numbering::iso;
    const chart::Changes* changes = nullptr;     ///< null for the baseline
    std::optional<chart::LookCharts> baseline{}; ///< lies behind as an outline
    bool described = true; ///< the chart in words for readers of the text; not where it is to be read
};

/// Seen as the dentist sees it: the patient's right on the left, cheek sides outward, marks where they lie between the
/// middle line and the back, the cheek and the tongue.
[[nodiscard]] std::string tooth_chart(const ToothChart& chart);

/// What the signs mean, once for all charts of a page.
[[nodiscard]] std::string tooth_chart_key(bool with_before = false);

} // namespace retap::report
