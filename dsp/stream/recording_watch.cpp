#include "dsp/stream/recording_watch.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>

namespace retap::dsp {

RecordingWatch::RecordingWatch(std::size_t channels, SampleRate recorded, SampleRate analysed)
    : channels_(channels), ratio_(analysed.hz() / recorded.hz()), watches_(channels, FaultWatch(recorded)), pieces_(1) {
}

void RecordingWatch::feed(std::span<const float> interleaved) {
    assert(interleaved.size() % channels_ == 0);
    const std::size_t frames = interleaved.size() / channels_;
    if (channels_ == 1) {
        watches_.front().feed(interleaved);
    } else {
        one_side_.resize(frames);
        for (std::size_t c = 0; c < channels_; ++c) {
            for (std::size_t i = 0; i < frames; ++i) {
                one_side_[i] = interleaved[i * channels_ + c];
            }
            watches_[c].feed(one_side_);
        }
    }
    frames_ += frames;
}

void RecordingWatch::go_on_at(Position analysed) {
    const auto recorded = static_cast<double>(frames_);
    if (pieces_.back().recorded == recorded) {
        pieces_.pop_back();
    }
    pieces_.push_back({.recorded = recorded, .analysed = analysed.samples()});
}

SampleRun RecordingWatch::in_analysis(const SampleRun& run) const {
    const double begin = run.begin.samples();
    const auto next =
        std::find_if(pieces_.begin() + 1, pieces_.end(), [&](const Piece& p) { return p.recorded > begin; });
    const Piece& piece = *std::prev(next);
    return {.begin = Position(piece.analysed + (begin - piece.recorded) * ratio_),
            .length = Length(run.length.samples() * ratio_)};
}

SignalFaults RecordingWatch::result() const {
    SignalFaults all;
    std::vector<double> shares;
    for (const FaultWatch& watch : watches_) {
        const SignalFaults seen = watch.result();
        all.clipped_samples += seen.clipped_samples;
        shares.push_back(seen.silent_share);
        const auto mapped = [this](const SampleRun& run) { return in_analysis(run); };
        std::ranges::transform(seen.clipped, std::back_inserter(all.clipped), mapped);
        std::ranges::transform(seen.dropouts, std::back_inserter(all.dropouts), mapped);
    }
    std::erase_if(shares, [](double share) { return share >= 1.0; });
    all.silent_share = shares.empty() ? 1.0 : std::ranges::max(shares);
    return all;
}

std::optional<std::size_t> RecordingWatch::silent_channel() const {
    const auto silent = [](const FaultWatch& watch) { return watch.range() && watch.range()->apart() == 0.0; };
    const auto found = std::ranges::find_if(watches_, silent);
    if (found == watches_.end() || std::ranges::all_of(watches_, silent)) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - watches_.begin());
}

Level RecordingWatch::loudest() const {
    double loudest = 0.0;
    for (const FaultWatch& watch : watches_) {
        const SampleRange range = watch.range().value_or(SampleRange{});
        const auto largest = static_cast<double>(std::max(range.highest, -range.lowest));
        loudest = std::max(loudest, std::min(largest, range.apart()));
    }
    return Level::from_amplitude(loudest);
}

} // namespace retap::dsp
