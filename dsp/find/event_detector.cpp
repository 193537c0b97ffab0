#include "dsp/find/event_detector.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace retap::dsp {

namespace {
constexpr std::int64_t coarse_frames = 8;      // frames per entry of the noise floor
constexpr std::int64_t floor_update = 4;       // coarse entries between two looks at the noise floor
constexpr std::int64_t reference_from = 9;     // frames before a rise that say how loud it was just before: from ...
constexpr std::int64_t reference_to = 2;       // ... to
constexpr double max_freedom = 16.0;           // noise is never as stationary as theory has it
constexpr double min_power = 1e-14;            // per band, re full scale: -140 dB, below the steps of 24 bits
constexpr std::int64_t background_update = 32; // frames between two looks at what the score usually exceeds
constexpr double background_share = 0.95;      // of the frames stay below that
constexpr double min_background = 2.5;         // what it is in steady noise; in silence there is none

// Frames of about 1.3 ms at any rate.
int levels_for(SampleRate rate) {
    return std::max(2, static_cast<int>(std::lround(std::log2(rate.hz() / 750.0))));
}

std::vector<double> coarse_freedom(const OctaveBank& bank) {
    std::vector<double> freedom;
    for (std::size_t b = 0; b < bank.bands(); ++b) {
        freedom.push_back(bank.samples_per_frame(b) * static_cast<double>(coarse_frames));
    }
    return freedom;
}

std::size_t window_entries(double seconds, double frames_per_second) {
    return static_cast<std::size_t>(std::max(8.0, seconds * frames_per_second / coarse_frames));
}
} // namespace

EventDetector::EventDetector(SampleRate rate, const Settings& settings)
    : settings_(settings), bank_(levels_for(rate), slow_octaves),
      frames_per_second_(rate.hz() / static_cast<double>(bank_.frame_length())),
      lag_(std::llround(settings.lag_s * frames_per_second_)),
      ahead_(std::llround(settings.ahead_s * frames_per_second_)),
      joined_(std::llround(settings.joined_s * frames_per_second_)),
      apart_(std::llround(settings.apart_s * frames_per_second_)), raw_(16, bank_.bands()),
      history_(static_cast<std::size_t>(3.0 * frames_per_second_), bank_.bands()),
      floor_(
          {.window = window_entries(settings.floor_window_s, frames_per_second_), .quantile = settings.floor_quantile},
          coarse_freedom(bank_)),
      coarse_(bank_.bands(), 0.0), energies_(bank_.bands(), 0.0),
      scores_(static_cast<std::size_t>(settings.around_s * frames_per_second_), 1), background_(min_background) {
    const auto frame = static_cast<double>(bank_.frame_length());
    const double latest = bank_.delay(0).samples();
    for (std::size_t b = 0; b < bank_.bands(); ++b) {
        shift_.push_back(static_cast<std::size_t>(std::lround((latest - bank_.delay(b).samples()) / frame)));
        half_freedom_.push_back(0.5 * std::min(max_freedom, 2.0 * bank_.samples_per_frame(b)));
    }
}

void EventDetector::align_into_history(std::span<const double> energies) {
    std::copy(energies.begin(), energies.end(), raw_.append().begin());
    const std::int64_t now = raw_.end() - 1;
    const std::span<double> aligned = history_.append();
    for (std::size_t b = 0; b < aligned.size(); ++b) {
        const std::int64_t from = now - static_cast<std::int64_t>(shift_[b]);
        aligned[b] = from >= 0 ? raw_[from][b] : 0.0;
    }
}

Position EventDetector::time_of(std::int64_t frame) const {
    return Position(static_cast<double>(frame) * static_cast<double>(bank_.frame_length())) - bank_.delay(0);
}

double EventDetector::score(std::int64_t frame) const {
    const auto now = history_[frame];
    const auto next = history_[frame + 1];
    const std::int64_t from = std::max(history_.begin(), frame - reference_from);
    const std::int64_t to = frame - reference_to;
    double sum = 0.0;
    for (std::size_t b = 1; b < history_.bands(); ++b) {
        const double power = 0.5 * (now[b] + next[b]);
        double reference = std::max(min_power, floor_.levels()[b]);
        if (power <= reference) {
            continue;
        }
        double before = 0.0;
        for (std::int64_t f = from; f <= to; ++f) {
            before += history_[f][b];
        }
        if (to >= from) {
            reference = std::max(reference, before / static_cast<double>(to - from + 1));
        }
        if (power > reference) {
            const double x = power / reference;
            sum += half_freedom_[b] * (x - 1.0 - std::log(x));
        }
    }
    return sum;
}

std::vector<RoughEvent> EventDetector::settle(std::int64_t now) {
    std::vector<RoughEvent> settled;
    while (!rises_.empty() && now >= rises_.front().main + apart_) {
        const RoughEvent oldest = rises_.front();
        const auto strongest =
            std::max_element(rises_.begin(), rises_.end(), [&](const RoughEvent& a, const RoughEvent& b) {
                const bool a_near = a.main < oldest.main + apart_;
                const bool b_near = b.main < oldest.main + apart_;
                return a_near != b_near ? b_near : (a_near && a.prominence < b.prominence);
            });
        if (strongest == rises_.begin()) {
            settled.push_back(oldest);
            rises_.pop_front();
            while (!rises_.empty() && rises_.front().main < oldest.main + apart_) {
                rises_.pop_front();
            }
            continue;
        }
        if (strongest->main - oldest.main > joined_) {
            settled.push_back(oldest);
            settled.back().overshadowed = true;
        } else if (oldest.prominence >= settings_.min_joined) {
            strongest->first = std::max(std::min(strongest->first, oldest.first), strongest->main - joined_);
        }
        rises_.pop_front();
    }
    return settled;
}

std::vector<RoughEvent> EventDetector::process(std::span<const float> frame) {
    bank_.process(frame, energies_);
    align_into_history(energies_);
    const std::int64_t count = history_.end();
    if (sound_begins_ < 0 && std::ranges::any_of(history_[count - 1], [](double power) { return power > 0.0; })) {
        sound_begins_ = count - 1;
    }
    for (std::size_t b = 0; b < coarse_.size(); ++b) {
        coarse_[b] += history_[count - 1][b] / static_cast<double>(coarse_frames);
    }
    if (count % coarse_frames == 0 && sound_begins_ >= 0) {
        floor_.push(coarse_);
        std::fill(coarse_.begin(), coarse_.end(), 0.0);
        if (count % (coarse_frames * floor_update) == 0 || count < lag_) {
            floor_.update();
        }
    }

    if (count <= lag_) {
        return {};
    }
    score_next();
    look_at(scores_.end() - 1 - ahead_);
    return settle(looked_ - 1);
}

void EventDetector::score_next() {
    const double here = score(scores_.end());
    scores_.append()[0] = here;
    if (scores_.end() % background_update != 0) {
        return;
    }
    const std::span<const double> around = scores_.kept();
    const auto rank = static_cast<std::size_t>(background_share * static_cast<double>(around.size() - 1));
    background_ = std::max(min_background, ranked_.find(around, rank, background_));
}

// The frame begins a rise if it stands above both its neighbours.
void EventDetector::look_at(std::int64_t frame) {
    if (frame < 0) {
        return;
    }
    const double here = scores_[frame][0];
    const double before = frame > 0 ? scores_[frame - 1][0] : 0.0;
    const double after = frame + 1 < scores_.end() ? scores_[frame + 1][0] : 0.0;
    if (here >= settings_.threshold * background_ && here > before && here >= after) {
        rises_.push_back({.first = frame, .main = frame, .prominence = here / background_});
    }
    looked_ = frame + 1;
}

std::vector<RoughEvent> EventDetector::finish() {
    while (scores_.end() + 1 < history_.end()) {
        score_next();
        look_at(scores_.end() - 1 - ahead_);
    }
    while (looked_ < scores_.end()) {
        look_at(looked_);
    }
    return settle(history_.end() + apart_);
}

} // namespace retap::dsp
