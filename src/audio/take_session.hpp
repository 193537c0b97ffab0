// One take from listening to ending: what is kept, what is said, and when it is enough. No device, thread or clock.
#pragma once

#include "audio/hints.hpp"
#include "audio/journal.hpp"
#include "audio/keeper.hpp"
#include "audio/kept_spans.hpp"
#include "audio/level_watch.hpp"
#include "audio/sound_sink.hpp"
#include "audio/take_listener.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace retap::audio {

struct SessionSettings {
    std::size_t good_taps = 8; ///< end by itself after that many; 3 or more (asserted)
    double quiet_s = 0.5;      ///< of silence that ends a run of taps
    double longest_s = 60.0;   ///< listen no longer than this
    double talk_limit_s = 2.5; ///< with enough taps, end this long after the last one even when it does not get quiet
    bool keep_all = false;     ///< keep everything, talk too
};

enum class EndedBy { running, enough_taps, time_limit, stopped, device_lost, disk_full };
[[nodiscard]] std::string_view words(EndedBy ended_by);

/// What there is to see while it runs.
struct SessionProgress {
    bool started = false; ///< the first tap was heard
    EndedBy ended_by = EndedBy::running;
    std::size_t taps = 0;
    std::size_t good_taps = 0;
    std::size_t wanted_taps = 0;
    double listened_s = 0.0;
    double peak_dbfs = -300.0;
    double noise_dbfs = -300.0;
    Hint hint = Hint::none;
};

/// Feed it sound until ended_by() is no longer `running`. Everything after that is ignored.
class TakeSession : public SoundSink {
public:
    /// `journal` must outlive the session; its errors come out of block() and gap().
    TakeSession(StreamFormat format, SessionSettings settings, JournalWriter& journal);

    void block(std::span<const float> interleaved) override;
    void gap(std::uint64_t lost_frames) override;
    /// Ends it for a reason of the caller's, unless it has ended already.
    void end(EndedBy reason);

    [[nodiscard]] EndedBy ended_by() const { return progress_.ended_by; }
    [[nodiscard]] const SessionProgress& progress() const { return progress_; }
    /// Once, after the end: what of the journal is to be kept, the margin around every tap. Nothing, which means all of
    /// it, when everything shall be kept.
    [[nodiscard]] std::optional<std::vector<Span>> finish();

private:
    class ToJournal : public KeptSound {
    public:
        explicit ToJournal(JournalWriter& journal) : journal_(journal) {}
        void samples(std::uint64_t position, std::span<const float> interleaved) override;
        void gap(std::uint64_t position, std::uint64_t lost_frames) override;

    private:
        JournalWriter& journal_;
    };

    void look();
    void note_tap(double onset_s);
    [[nodiscard]] bool is_enough(const dsp::TakeAnalyser::Progress& heard) const;
    [[nodiscard]] Hint hint() const;
    [[nodiscard]] std::uint64_t frame_at(double seconds) const;

    StreamFormat format_;
    SessionSettings settings_;
    JournalWriter& journal_;
    ToJournal to_journal_;
    Keeper keeper_;
    TakeListener listener_;
    LevelWatch levels_;
    SessionProgress progress_;
    double last_tap_s_ = -1.0;
    double last_rise_s_ = 0.0;
    double last_clipped_s_ = -1.0;
    double last_talk_s_ = -1.0;
    Hint tap_hint_ = Hint::none; ///< about the last tap
};

} // namespace retap::audio
