#include "report/tap_picture.hpp"

#include "dsp/filters/butterworth.hpp"
#include "dsp/landing/first_sound.hpp"
#include "report/svg_frame.hpp"
#include "report/tap_envelope.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace retap::report {

namespace {

constexpr double around_ms = 30.0; // of the onset, in which the main impact of a tap is looked for
constexpr double least_width_ms = 0.5;
constexpr std::size_t least_taps_with_second = 2;

std::size_t picture_points() {
    return static_cast<std::size_t>(std::lround((picture_whole.to_ms - picture_whole.from_ms) / picture_step_ms)) + 1;
}

double at_ms(std::size_t point) {
    return picture_whole.from_ms + static_cast<double>(point) * picture_step_ms;
}

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// A tap's level over the picture's time, and where its loudest moment lies after its onset.
struct Laid {
    std::vector<double> level_db;
    double loudest_ms = 0.0;
    double onset_s = 0.0;
};

/// In the band in which the first sound is looked for: below it a tap swells too slowly to show when it begins.
dsp::Excerpt as_compared(const dsp::Excerpt& excerpt) {
    const dsp::FirstSoundSettings band;
    const dsp::SampleRate rate(dsp::analysis_rate_hz);
    std::vector<double> sound(excerpt.samples.begin(), excerpt.samples.end());
    dsp::Butterworth::high_pass(dsp::Frequency(band.from_hz), rate).apply(sound);
    dsp::Butterworth::low_pass(dsp::Frequency(band.to_hz), rate).apply(sound);
    std::vector<float> heard_samples;
    heard_samples.reserve(sound.size());
    std::transform(sound.begin(), sound.end(), std::back_inserter(heard_samples),
                   [](double sample) { return static_cast<float>(sample); });
    dsp::Excerpt heard;
    heard.samples = std::move(heard_samples);
    heard.onset_index = excerpt.onset_index;
    return heard;
}

std::optional<Laid> laid(const dsp::Tap& tap) {
    const EnvelopeWindow window{.from_ms = picture_whole.from_ms - around_ms,
                                .to_ms = picture_whole.to_ms + around_ms,
                                .step_ms = picture_step_ms,
                                .smoothing_ms = 0.15};
    const std::vector<double> curve = tap_envelope(as_compared(tap.excerpt), window);
    if (!tap.usable || curve.empty()) {
        return std::nullopt;
    }
    const auto loudest = static_cast<std::size_t>(std::max_element(curve.begin(), curve.end()) - curve.begin());
    const auto before = static_cast<std::size_t>(std::lround(-picture_whole.from_ms / picture_step_ms));
    Laid result{.level_db = {}, .loudest_ms = window.at_ms(loudest), .onset_s = tap.onset_s};
    for (std::size_t point = 0; point < picture_points(); ++point) {
        const bool there = loudest + point >= before && loudest + point - before < curve.size();
        const double amplitude = there ? curve[loudest + point - before] : 0.0;
        result.level_db.push_back(amplitude > 0.0 ? std::max(20.0 * std::log10(amplitude), picture_floor_db - 15.0)
                                                  : picture_floor_db - 15.0);
    }
    return result;
}

std::optional<double> second_contact(const dsp::TakeAnalysis& take) {
    std::vector<double> at;
    std::size_t usable = 0;
    for (const dsp::Tap& tap : take.taps) {
        usable += tap.usable ? 1U : 0U;
        if (tap.usable && tap.contacts.size() > 1) {
            at.push_back(tap.contacts[1].at_ms);
        }
    }
    return at.size() >= least_taps_with_second && 2 * at.size() > usable ? std::optional(median(at)) : std::nullopt;
}

using Points = std::vector<std::pair<double, double>>;

void line(Markup& out, std::string_view css_class, double x1, double y1, double x2, double y2) {
    out.empty("line", {{"class", std::string(css_class)},
                       {"x1", coordinate(x1)},
                       {"y1", coordinate(y1)},
                       {"x2", coordinate(x2)},
                       {"y2", coordinate(y2)}});
}

struct Canvas {
    Frame frame;
    Scale x;
    double zero;
};

Scale levels(const Canvas& canvas, Side side) {
    return {picture_floor_db, 0.0, canvas.zero, side == Side::before ? canvas.frame.top : canvas.frame.bottom};
}

void curve(Markup& out, const Canvas& canvas, const PictureSide& side, Side which) {
    const Scale y = levels(canvas, which);
    Points points;
    for (std::size_t point = 0; point < side.level_db.size(); ++point) {
        if (at_ms(point) >= canvas.x.from_value && at_ms(point) <= canvas.x.to_value) {
            points.emplace_back(canvas.x(at_ms(point)), y(std::clamp(side.level_db[point], picture_floor_db, 0.0)));
        }
    }
    if (points.empty()) {
        return;
    }
    Points area = points;
    area.emplace_back(points.back().first, canvas.zero);
    area.emplace_back(points.front().first, canvas.zero);
    polyline(out, "area", area);
    polyline(out, "middle", points);
}

/// First sound, main impact, and the bracket between them outside of the curve, with its milliseconds.
void lead(Markup& out, const Canvas& canvas, const PictureSide& side, Side which) {
    const bool up = which == Side::before;
    const double edge = up ? canvas.frame.top : canvas.frame.bottom;
    const double outward = up ? -1.0 : 1.0;
    const double bar = edge + outward * 14.0;
    const auto in_range = [&](double ms) { return ms >= canvas.x.from_value && ms <= canvas.x.to_value; };
    if (in_range(0.0)) {
        line(out, "impact", canvas.x(0.0), canvas.zero, canvas.x(0.0), bar + outward * 5);
    }
    if (!side.lead_ms || side.level_db.empty()) {
        return;
    }
    const double first = -*side.lead_ms;
    if (in_range(first)) {
        line(out, "first-sound", canvas.x(first), canvas.zero, canvas.x(first), bar + outward * 5);
    }
    if (!in_range(first) && !in_range(0.0)) {
        return;
    }
    const double from = canvas.x(std::clamp(first, canvas.x.from_value, canvas.x.to_value));
    const double to = canvas.x(std::clamp(0.0, canvas.x.from_value, canvas.x.to_value));
    line(out, "bracket", from, bar, to, bar);
    label(out, std::min(from, to) - 8, bar + 6, "end", "lead", number(*side.lead_ms, 2) + " ms");
}

void second(Markup& out, const Canvas& canvas, const PictureSide& side, Side which) {
    if (!side.second_ms || !side.lead_ms) {
        return;
    }
    const double at = *side.second_ms - *side.lead_ms;
    if (at > canvas.x.from_value && at < canvas.x.to_value) {
        const double edge = which == Side::before ? canvas.frame.top : canvas.frame.bottom;
        mark(out, which, canvas.x(at), (canvas.zero + edge) / 2, 6);
    }
}

std::string side_words(const PictureSide& side, const std::string& name) {
    if (side.level_db.empty()) {
        return name + ": no tap to draw.";
    }
    return name + ": " +
           (side.lead_ms ? "the first sound comes " + number(*side.lead_ms, 2) + " ms before the main impact."
                         : std::string("when the first sound comes could not be told."));
}

struct Sketch {
    std::string_view measure;
    bool larger;   ///< of the difference that it stands for
    Points points; ///< in a box of 72 by 28
    std::string_view words;
};

const std::vector<Sketch>& sketches() {
    static const std::vector<Sketch> all = {
        {"first_sound",
         true,
         {{2, 26}, {12, 26}, {16, 15}, {24, 24}, {34, 25}, {38, 3}, {50, 20}, {70, 25}},
         "A contact comes first, then the main impact."},
        {"first_sound",
         false,
         {{2, 26}, {34, 26}, {38, 3}, {50, 20}, {70, 25}},
         "A contact that came first does so no longer."},
        {"later_contacts",
         true,
         {{2, 26}, {20, 26}, {24, 3}, {36, 22}, {42, 24}, {46, 12}, {56, 22}, {70, 25}},
         "A second contact follows the main impact."},
        {"onset_spread",
         true,
         {{2, 26}, {20, 26}, {24, 3}, {36, 22}, {42, 24}, {46, 12}, {56, 22}, {70, 25}},
         "A second contact follows the first one later than before."},
        {"rise",
         true,
         {{2, 26}, {10, 24}, {20, 20}, {30, 14}, {40, 6}, {44, 3}, {54, 18}, {70, 25}},
         "The sound grows slowly, as when a tooth slides into its place."},
        {"sameness",
         true,
         {{2, 26}, {30, 26}, {34, 3}, {36, 22}, {40, 25}, {70, 26}},
         "The taps are more alike than they were, as when one contact stands alone."},
    };
    return all;
}

} // namespace

PictureRange inside(PictureRange range) {
    const double whole = picture_whole.to_ms - picture_whole.from_ms;
    const double width = std::clamp(range.to_ms - range.from_ms, least_width_ms, whole);
    const double from = std::clamp(range.from_ms, picture_whole.from_ms, picture_whole.to_ms - width);
    return {from, from + width};
}

PictureSide picture_side(const dsp::TakeAnalysis& take) {
    std::vector<Laid> taps;
    for (const dsp::Tap& tap : take.taps) {
        if (auto one = laid(tap)) {
            taps.push_back(std::move(*one));
        }
    }
    PictureSide side;
    if (taps.empty()) {
        return side;
    }
    side.level_db.assign(picture_points(), 0.0);
    std::vector<double> loudest;
    for (const Laid& tap : taps) {
        loudest.push_back(tap.loudest_ms);
        for (std::size_t point = 0; point < side.level_db.size(); ++point) {
            side.level_db[point] += tap.level_db[point] / static_cast<double>(taps.size());
        }
    }
    side.second_ms = second_contact(take);
    const double usual = median(loudest);
    const auto example = std::min_element(taps.begin(), taps.end(), [&](const Laid& a, const Laid& b) {
        return std::abs(a.loudest_ms - usual) < std::abs(b.loudest_ms - usual);
    });
    side.example_s = example->onset_s + example->loudest_ms / 1000.0;
    return side;
}

TapPicture picture_of(const compare::Comparison& comparison) {
    TapPicture picture{picture_side(comparison.before), picture_side(comparison.after)};
    if (const auto* first = compare::measure_named(comparison.measures, word(compare::EvidenceKind::first_sound))) {
        picture.before.lead_ms = first->before.middle;
        picture.after.lead_ms = first->after.middle;
    }
    return picture;
}

std::string draw(const TapPicture& picture, PictureRange range, const SideNames& names) {
    if (picture.before.level_db.empty() && picture.after.level_db.empty()) {
        return {};
    }
    const PictureRange shown = inside(range);
    const Frame frame{.width = 960, .height = 380, .left = 150, .right = 950, .top = 30, .bottom = 300};
    const Canvas canvas{.frame = frame,
                        .x = {shown.from_ms, shown.to_ms, frame.left, frame.right},
                        .zero = (frame.top + frame.bottom) / 2};
    Markup out;
    out.open("svg", {{"class", "plot plot-picture"},
                     {"viewBox", "0 0 960 380"},
                     {"role", "img"},
                     {"data-from", coordinate(shown.from_ms)},
                     {"data-to", coordinate(shown.to_ms)},
                     {"data-left", coordinate(frame.left)},
                     {"data-right", coordinate(frame.right)},
                     {"data-top", coordinate(frame.top)},
                     {"data-bottom", coordinate(frame.bottom)}});
    out.element("title", names.before + " above, " + names.after + " below");
    out.element("desc", "Level of the taps over time. " + side_words(picture.before, names.before) + " " +
                            side_words(picture.after, names.after));
    const Frame axis{frame.width, frame.height, frame.left, frame.right, frame.top, frame.bottom + 24};
    horizontal_axis(out, axis, canvas.x, linear_ticks(shown.from_ms, shown.to_ms, 12), "Time from the main impact, ms");
    for (const Side side : {Side::before, Side::after}) {
        const Scale y = levels(canvas, side);
        for (const double level : {0.0, -20.0, -40.0}) {
            line(out, "grid", frame.left, y(level), frame.right, y(level));
            label(out, frame.left - 6, y(level) + 4, "end", "tick", number(level, 0));
        }
    }
    label(out, 4, frame.top - 12, "start", "axis", "Level, dB");
    const auto draw_side = [&](Side which, const PictureSide& side, const std::string& name) {
        out.open("g", {{"class", std::string(css(which))}});
        curve(out, canvas, side, which);
        lead(out, canvas, side, which);
        second(out, canvas, side, which);
        out.close("g");
        const double edge = which == Side::before ? frame.top : frame.bottom;
        label(out, 4, (canvas.zero + edge) / 2 + 5, "start", "side " + std::string(css(which)), name);
    };
    draw_side(Side::before, picture.before, names.before);
    draw_side(Side::after, picture.after, names.after);
    line(out, "zero", frame.left, canvas.zero, frame.right, canvas.zero);
    out.close("svg");
    return std::move(out).str();
}

std::string finding_sketches(const compare::Comparison& comparison) {
    Markup out;
    for (const Sketch& sketch : sketches()) {
        const auto* measure = compare::measure_named(comparison.measures, sketch.measure);
        if (measure == nullptr || measure->finding != compare::Finding::beyond ||
            (measure->difference > 0.0) != sketch.larger) {
            continue;
        }
        out.open("li");
        out.open("svg", {{"class", "plot sketch"}, {"viewBox", "0 0 72 28"}, {"aria-hidden", "true"}});
        polyline(out, "sketch-line", sketch.points);
        out.close("svg").element("span", sketch.words).close("li");
        break; // what comes first in the list says more than the rest
    }
    const std::string items = std::move(out).str();
    return items.empty() ? items : "<ul class=\"sketches\">" + items + "</ul>";
}

} // namespace retap::report
