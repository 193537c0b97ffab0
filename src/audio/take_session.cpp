#include "audio/take_session.hpp"

#include "dsp/find/tap_finder.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

constexpr double step_s = 0.010; // how often the session looks up from listening

// A tap is reported some time after it sounded. Until then what follows the last known tap, and whatever rises above
// the noise, is written to the journal as well, so that a kill costs no tap; finishing the take cuts it down to the
// margin.
constexpr double report_s = 1.0;

constexpr double full_scale_dbfs = -0.1;
constexpr double min_over_noise_db = 26.0; // of a tap's peak; below, its later contacts drown
constexpr double quiet_room_dbfs = -60.0;
constexpr double tap_length_s = 0.035;
constexpr double talk_window_s = 0.6; // holds two quick taps, which are loud for a fifth of it
constexpr double talk_share = 0.4;
constexpr double said_for_s = 2.0;

KeeperSettings keeper_settings(const SessionSettings& settings) {
    return {.before_s = kept_margin_s,
            .after_s = kept_margin_s + report_s,
            .decision_s = report_s,
            .keep_all = settings.keep_all};
}

} // namespace

std::string_view words(EndedBy ended_by) {
    switch (ended_by) {
    case EndedBy::running:
        break;
    case EndedBy::enough_taps:
        return "enough taps";
    case EndedBy::time_limit:
        return "time limit";
    case EndedBy::stopped:
        return "stopped by hand";
    case EndedBy::device_lost:
        return "device lost";
    case EndedBy::disk_full:
        return "disk full";
    }
    return "running";
}

void TakeSession::ToJournal::samples(std::uint64_t position, std::span<const float> interleaved) {
    journal_.samples(position, interleaved);
}

void TakeSession::ToJournal::gap(std::uint64_t position, std::uint64_t lost_frames) {
    journal_.gap(position, lost_frames);
}

TakeSession::TakeSession(StreamFormat format, SessionSettings settings, JournalWriter& journal)
    : format_(format), settings_(settings), journal_(journal), to_journal_(journal),
      keeper_(format, keeper_settings(settings), to_journal_), listener_(format), levels_(format) {
    assert(settings.good_taps >= 3);
    progress_.wanted_taps = settings.good_taps;
}

void TakeSession::block(std::span<const float> interleaved) {
    const auto step = static_cast<std::size_t>(std::lround(step_s * format_.sample_rate_hz)) *
                      static_cast<std::size_t>(format_.channels);
    while (!interleaved.empty() && ended_by() == EndedBy::running) {
        // Up to the next multiple of the step, so that the sizes of the blocks make no difference.
        const std::size_t done = keeper_.position() * static_cast<std::size_t>(format_.channels) % step;
        const auto part = interleaved.first(std::min(step - done, interleaved.size()));
        interleaved = interleaved.subspan(part.size());
        keeper_.block(part);
        levels_.feed(part);
        listener_.block(part);
        if (done + part.size() == step) {
            look();
        }
    }
}

void TakeSession::gap(std::uint64_t lost_frames) {
    if (ended_by() == EndedBy::running) {
        keeper_.gap(lost_frames);
        listener_.gap(lost_frames);
    }
}

void TakeSession::end(EndedBy reason) {
    if (ended_by() == EndedBy::running) {
        progress_.ended_by = reason;
    }
}

void TakeSession::look() {
    const auto heard = listener_.progress();
    // A tap is known for one some time after it sounded; a kill must not cost it. Finishing cuts away what was none.
    if (levels_.last_rise_s() > last_rise_s_) {
        last_rise_s_ = levels_.last_rise_s();
        keeper_.rise_at(last_rise_s_ - LevelWatch::block_s);
    }
    if (heard.last_tap_s.value_or(-1.0) > last_tap_s_) {
        note_tap(*heard.last_tap_s);
    }
    progress_.started = progress_.started || heard.taps > 0;
    progress_.taps = heard.taps;
    progress_.good_taps = heard.usable;
    progress_.listened_s = static_cast<double>(keeper_.position()) / format_.sample_rate_hz;
    progress_.peak_dbfs = levels_.peak_dbfs();
    progress_.noise_dbfs = levels_.noise_dbfs();
    if (progress_.peak_dbfs >= full_scale_dbfs) {
        last_clipped_s_ = progress_.listened_s;
    }
    if (last_tap_s_ >= 0.0 && levels_.loud_share(talk_window_s) > talk_share) {
        last_talk_s_ = progress_.listened_s;
    }
    progress_.hint = hint();
    if (is_enough(heard)) {
        end(EndedBy::enough_taps);
    } else if (progress_.listened_s >= settings_.longest_s) {
        end(EndedBy::time_limit);
    }
}

void TakeSession::note_tap(double onset_s) {
    last_tap_s_ = onset_s;
    journal_.tap(frame_at(onset_s));
    keeper_.tap_at(onset_s);
    const double over_noise = levels_.peak_dbfs(onset_s, onset_s + tap_length_s) - levels_.noise_dbfs();
    tap_hint_ = Hint::none;
    if (over_noise < min_over_noise_db) {
        tap_hint_ = levels_.noise_dbfs() < quiet_room_dbfs ? Hint::too_soft : Hint::too_noisy;
    }
}

bool TakeSession::is_enough(const dsp::TakeAnalyser::Progress& heard) const {
    if (heard.usable < settings_.good_taps) {
        return false;
    }
    const double now_s = progress_.listened_s;
    const bool quiet = now_s - levels_.last_loud_s() >= settings_.quiet_s;
    // What sounded just now may be a tap that is not reported yet; it shall be whole and counted.
    const bool settled = now_s - levels_.burst_began_s() >= dsp::TapFinder::settling_time_s();
    return (quiet && settled) || now_s - last_tap_s_ >= settings_.talk_limit_s;
}

Hint TakeSession::hint() const {
    const double now_s = progress_.listened_s;
    if (last_clipped_s_ >= 0.0 && now_s - last_clipped_s_ < said_for_s) {
        return Hint::too_loud;
    }
    if (last_talk_s_ >= 0.0 && now_s - last_talk_s_ < said_for_s) {
        return Hint::talk_after_taps;
    }
    return last_tap_s_ >= 0.0 && now_s - last_tap_s_ < said_for_s ? tap_hint_ : Hint::none;
}

std::optional<std::vector<Span>> TakeSession::finish() {
    const dsp::TakeAnalysis heard = listener_.finish();
    if (settings_.keep_all) {
        return std::nullopt;
    }
    std::vector<std::uint64_t> onsets;
    for (const dsp::Tap& tap : heard.taps) {
        onsets.push_back(frame_at(tap.onset_s));
    }
    return spans_around(std::move(onsets), frame_at(kept_margin_s));
}

std::uint64_t TakeSession::frame_at(double seconds) const {
    return static_cast<std::uint64_t>(std::llround(seconds * format_.sample_rate_hz));
}

} // namespace retap::audio
