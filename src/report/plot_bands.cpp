#include "report/plots.hpp"
#include "report/svg_frame.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace retap::report {

namespace {

constexpr double lowest_db = -60.0;
constexpr double min_range_db = 30.0;

struct BandPoint {
    double hz;
    double db;
};

/// Median level per band over the usable taps, relative to the strongest band.
std::vector<BandPoint> spectrum(const dsp::TakeAnalysis& take) {
    std::vector<BandPoint> bands;
    for (std::size_t band = 0; band < take.band_centres_hz.size(); ++band) {
        std::vector<double> levels;
        for (const dsp::Tap& tap : take.taps) {
            if (tap.usable && band < tap.bands_db.size() && std::isfinite(tap.bands_db[band])) {
                levels.push_back(tap.bands_db[band]);
            }
        }
        if (levels.empty() || !(take.band_centres_hz[band] > 0.0)) {
            continue;
        }
        std::sort(levels.begin(), levels.end());
        const std::size_t half = levels.size() / 2;
        const double middle = levels.size() % 2 == 1 ? levels[half] : (levels[half - 1] + levels[half]) / 2.0;
        bands.push_back({take.band_centres_hz[band], middle});
    }
    double strongest = -1e9;
    for (const BandPoint& point : bands) {
        strongest = std::max(strongest, point.db);
    }
    for (BandPoint& point : bands) {
        point.db = std::max(lowest_db, point.db - strongest);
    }
    return bands;
}

struct Line {
    Side side;
    std::vector<BandPoint> bands;
};

std::string draw(const std::vector<Line>& lines) {
    double low = 1e9;
    double high = 0.0;
    double floor_db = -min_range_db;
    for (const Line& line : lines) {
        for (const BandPoint& point : line.bands) {
            low = std::min(low, point.hz);
            high = std::max(high, point.hz);
            floor_db = std::min(floor_db, 10.0 * std::floor(point.db / 10.0));
        }
    }
    if (!(high > 0.0)) {
        return {};
    }
    const Frame frame{.width = 480, .height = 330, .left = 52, .right = 468, .top = 14, .bottom = 284};
    const Scale x{low / 1.13, high * 1.13, frame.left, frame.right, Scale::Kind::logarithmic};
    const Scale y{floor_db, 0.0, frame.bottom, frame.top};

    Markup out;
    open_drawing(out, frame, "bands", "Spectrum in third-octave bands",
                 "Level of each band below the strongest band of its side, in decibels");
    std::vector<Tick> ticks;
    constexpr std::array<std::pair<double, std::string_view>, 9> octaves{{{63, "63"},
                                                                          {125, "125"},
                                                                          {250, "250"},
                                                                          {500, "500"},
                                                                          {1000, "1k"},
                                                                          {2000, "2k"},
                                                                          {4000, "4k"},
                                                                          {8000, "8k"},
                                                                          {16000, "16k"}}};
    for (const auto& [hz, text] : octaves) {
        if (hz >= x.from_value && hz <= x.to_value) {
            ticks.push_back({hz, std::string(text)});
        }
    }
    horizontal_axis(out, frame, x, ticks, "Frequency, Hz");
    std::vector<Tick> levels = linear_ticks(floor_db, 0.0, 6);
    levels.back().label += " dB"; // the topmost, where no curve is in the way of it
    vertical_axis(out, frame, y, levels);
    for (const Line& line : lines) {
        out.open("g", {{"class", std::string(css(line.side))}});
        std::vector<std::pair<double, double>> points;
        for (const BandPoint& point : line.bands) {
            points.emplace_back(x(point.hz), y(point.db));
        }
        polyline(out, "middle", points);
        for (const auto& [px, py] : points) {
            mark(out, line.side, px, py, line.side == Side::before ? 3.4 : 3.8);
        }
        out.close("g");
    }
    out.close("svg");
    return std::move(out).str();
}

} // namespace

std::string bands_plot(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after) {
    return draw({{Side::before, spectrum(before)}, {Side::after, spectrum(after)}});
}

std::string bands_plot(const dsp::TakeAnalysis& take) {
    return draw({{Side::before, spectrum(take)}});
}

} // namespace retap::report
