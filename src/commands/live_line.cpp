#include "live_line.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <string>
#include <unistd.h>

namespace retap::commands {
namespace {

constexpr std::size_t meter_width = 20;
constexpr double meter_floor_dbfs = -60.0; // 3 dB a step

std::string meter(double peak_dbfs) {
    const double full = (peak_dbfs - meter_floor_dbfs) / -meter_floor_dbfs * static_cast<double>(meter_width);
    const auto steps = static_cast<std::size_t>(std::lround(std::clamp(full, 0.0, static_cast<double>(meter_width))));
    return "[" + std::string(steps, '#') + std::string(meter_width - steps, '-') + "]";
}

} // namespace

std::string live_line(const audio::SessionProgress& progress) {
    const std::string count = std::to_string(progress.good_taps) + " of " + std::to_string(progress.wanted_taps);
    const std::string state = progress.started ? "Recording" : "Listening";
    const std::string unfit = progress.taps > progress.good_taps
                                  ? ", " + std::to_string(progress.taps - progress.good_taps) + " not good"
                                  : "";
    const std::string hint(audio::word(progress.hint));
    return state + "  " + count + " taps" + unfit + "  " + meter(progress.peak_dbfs) + "  " +
           std::to_string(static_cast<int>(progress.listened_s)) + " s" + (hint.empty() ? "" : "  " + hint);
}

LiveLine::LiveLine() : shown_(isatty(STDERR_FILENO) == 1) {}

LiveLine::~LiveLine() {
    if (shown_) {
        std::fputs("\r\033[K", stderr);
    }
}

void LiveLine::show(const audio::SessionProgress& progress) const {
    if (shown_) {
        const std::string line = "\r\033[K" + live_line(progress);
        std::fputs(line.c_str(), stderr);
        std::fflush(stderr);
    }
}

} // namespace retap::commands
