#include "dsp/stream/signal_faults.hpp"

#include <algorithm>
#include <cmath>

namespace retap::dsp {

namespace {

constexpr std::size_t max_listed = 4096;
constexpr float full_scale = 0.9995F;
constexpr float min_extreme = 0.02F;
constexpr std::size_t least_equal = 3;
constexpr std::size_t min_full = 2;
constexpr double audible_power = 1e-8; // -80 dBFS
constexpr std::size_t compared = 32;
constexpr std::size_t look_every = 16; // samples; a repeated block of 64 or more cannot slip between
constexpr std::array<std::size_t, 14> buffer_lengths{64,  96,  128, 192, 240, 256,  384,
                                                     441, 480, 512, 882, 960, 1024, 2048};

SampleRun make_run(std::size_t begin, std::size_t length) {
    return {.begin = Position(static_cast<double>(begin)), .length = Length(static_cast<double>(length))};
}

} // namespace

bool any_within(std::span<const SampleRun> runs, Position from, Position to) {
    return std::ranges::any_of(runs,
                               [&](const SampleRun& run) { return run.begin < to && from < run.begin + run.length; });
}

void FaultWatch::Rail::Runs::add(std::size_t begin, std::size_t length) {
    samples += length;
    if (list.size() < max_listed) {
        list.push_back(make_run(begin, length));
    }
}

bool FaultWatch::Rail::steep(float beside) const {
    return beside < 0.998F * extreme_;
}

bool FaultWatch::Rail::unmoved_by(float highest) const {
    return highest < extreme_ && highest < full_scale && equal_ == 0 && full_ == 0;
}

void FaultWatch::Rail::push(float x, std::size_t at) {
    if (at == 0) {
        last_ = x; // nothing is known to have been lower
    }
    if (x != extreme_ && equal_ > 0) {
        if (equal_ >= least_equal && (steep(before_) || steep(x))) {
            equal_runs_.add(at - equal_, equal_);
        }
        equal_ = 0;
    }
    if (x > extreme_) {
        extreme_ = x;
        equal_runs_ = {};
    }
    if (x == extreme_ && x > 0.0F) {
        before_ = equal_ == 0 ? last_ : before_;
        ++equal_;
    }
    if (x >= full_scale) {
        ++full_;
    } else if (full_ > 0) {
        if (full_ >= min_full) {
            full_runs_.add(at - full_, full_);
        }
        full_ = 0;
    }
    last_ = x;
}

void FaultWatch::Rail::collect(SignalFaults& faults, std::size_t end) const {
    Runs runs = extreme_ >= full_scale ? full_runs_ : equal_runs_;
    if (extreme_ >= full_scale && full_ >= min_full) {
        runs.add(end - full_, full_);
    } else if (extreme_ < full_scale && equal_ >= least_equal && steep(before_)) {
        runs.add(end - equal_, equal_);
    }
    if (extreme_ >= min_extreme) {
        faults.clipped_samples += runs.samples;
        faults.clipped.insert(faults.clipped.end(), runs.list.begin(), runs.list.end());
    }
}

FaultWatch::FaultWatch(SampleRate rate)
    : longest_hole_(static_cast<std::size_t>(Length::from_ms(50.0, rate).samples())), past_(history, 0.0F) {}

void FaultWatch::add_dropout(std::size_t begin, std::size_t length) {
    if (dropouts_.size() < max_listed) {
        dropouts_.push_back(make_run(begin, length));
    }
}

void FaultWatch::watch_zeros(float x) {
    if (x == 0.0F) {
        if (++zeros_ == edge) { // shorter runs are no holes
            edge_energy_before_ = 0.0;
            for (std::size_t back = edge; back <= std::min(2 * edge - 1, count_); ++back) {
                edge_energy_before_ += static_cast<double>(past(back)) * static_cast<double>(past(back));
            }
        }
    } else if (zeros_ > 0) {
        if (zeros_ == count_) {
            leading_ = zeros_;
        } else if (zeros_ >= longest_hole_) {
            silent_ += zeros_;
        } else if (zeros_ >= edge && count_ >= zeros_ + edge && edge_energy_before_ > audible_power * edge) {
            hole_begin_ = count_ - zeros_;
            hole_length_ = zeros_;
            after_hole_ = 0;
            edge_energy_after_ = 0.0;
        }
        zeros_ = 0;
    }
    if (hole_length_ > 0) {
        edge_energy_after_ += static_cast<double>(x) * static_cast<double>(x);
        if (++after_hole_ == edge) {
            if (edge_energy_after_ > audible_power * edge) {
                add_dropout(hole_begin_, hole_length_);
            }
            hole_length_ = 0;
        }
    }
}

// The last samples equal those `lag` before them.
bool FaultWatch::same_as(std::size_t lag) const {
    for (std::size_t back = 1; back <= compared; ++back) {
        if (past(back) != past(back + lag)) {
            return false;
        }
    }
    return true;
}

// Silence, faint sounds on a few steps of 16 bits and constants are alike without having been repeated.
bool FaultWatch::recent_is_distinctive() const {
    double energy = 0.0;
    bool varies = false;
    for (std::size_t back = 1; back <= compared; ++back) {
        energy += static_cast<double>(past(back)) * static_cast<double>(past(back));
        varies = varies || past(back) != past(1);
    }
    return varies && energy > audible_power * compared;
}

void FaultWatch::watch_repeats() {
    if (count_ % look_every != 0 || count_ < quiet_until_) {
        return;
    }
    for (const std::size_t lag : buffer_lengths) {
        if (past(1) == past(1 + lag) && count_ >= 2 * lag + compared && same_as(lag) && !same_as(2 * lag) &&
            recent_is_distinctive()) {
            add_dropout(count_ - compared, lag);
            quiet_until_ = count_ + lag;
            return;
        }
    }
}

void FaultWatch::widen(float lowest, float highest) {
    range_ = count_ == 0
                 ? SampleRange{.lowest = lowest, .highest = highest}
                 : SampleRange{.lowest = std::min(range_.lowest, lowest), .highest = std::max(range_.highest, highest)};
}

void FaultWatch::feed(std::span<const float> block) {
    while (!block.empty()) {
        // up to where repeats are looked for next; in most of it nothing begins or ends
        const auto part = block.first(std::min(look_every - count_ % look_every, block.size()));
        block = block.subspan(part.size());
        float lowest = part.front();
        float highest = part.front();
        bool zero = false;
        for (const float x : part) {
            lowest = std::min(lowest, x);
            highest = std::max(highest, x);
            zero = zero || x == 0.0F;
        }
        widen(lowest, highest);
        const bool no_tops = upper_.unmoved_by(highest) && lower_.unmoved_by(-lowest);
        const bool no_holes = !zero && zeros_ == 0 && hole_length_ == 0;
        for (const float x : part) {
            if (!no_tops) {
                upper_.push(x, count_);
                lower_.push(-x, count_);
            }
            if (!no_holes) {
                watch_zeros(x);
            }
            past_[count_ & (history - 1)] = x;
            ++count_;
        }
        if (no_tops) {
            upper_.pass(part.back());
            lower_.pass(-part.back());
        }
        watch_repeats();
    }
}

SignalFaults FaultWatch::result() const {
    SignalFaults faults;
    upper_.collect(faults, count_);
    lower_.collect(faults, count_);
    std::ranges::sort(faults.clipped, {}, [](const SampleRun& run) { return run.begin.samples(); });
    faults.dropouts = dropouts_;
    const bool all_silent = count_ > 0 && zeros_ == count_;
    const std::size_t sounding = count_ - leading_ - zeros_;
    faults.silent_share = all_silent     ? 1.0
                          : sounding > 0 ? static_cast<double>(silent_) / static_cast<double>(sounding)
                                         : 0.0;
    return faults;
}

} // namespace retap::dsp
