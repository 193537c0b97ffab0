// A take on its way to disk: its journal, its session, and how it is finished. Fed by a microphone, a file or a vector.
#pragma once

#include "audio/capture_queue.hpp"
#include "audio/finish_take.hpp"
#include "audio/journal.hpp"
#include "audio/sound_sink.hpp"
#include "audio/take_session.hpp"
#include "dsp/base/take.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <string>

namespace retap::audio {

/// What became of a recording.
struct Recording {
    EndedBy ended_by = EndedBy::running;
    std::optional<FinishedTake> take{};          ///< nothing when no tap was heard, or when it could not be finished
    std::optional<dsp::TakeAnalysis> analysis{}; ///< of that take, as inspect_file gives it
    /// What went wrong, as a message; empty when nothing did. What could be kept is in `take`, or waits in `journal`.
    std::string trouble{};
    std::filesystem::path journal{}; ///< set when the take waits there to be recovered
};

struct TakePlace {
    std::filesystem::path destination{};    ///< .wav or .flac; must not exist
    std::filesystem::path journal_folder{}; ///< made when missing; see unfinished_folder()
    std::string device{};                   ///< as shown to people
};

class TakeRecording : public SoundSink {
public:
    /// Throws UsageError when the destination is neither WAV nor FLAC, InputError when it exists or its folder does
    /// not, and when the journal cannot be begun.
    TakeRecording(StreamFormat format, const SessionSettings& settings, const TakePlace& place);

    /// Removes the journal when nothing was kept in it.
    ~TakeRecording() override;
    TakeRecording(const TakeRecording&) = delete;
    TakeRecording& operator=(const TakeRecording&) = delete;

    /// Never throw: a fault of the journal ends the session.
    void block(std::span<const float> interleaved) override;
    void gap(std::uint64_t lost_frames) override;
    /// Ends it for a reason of the caller's, unless it has ended already. `trouble` goes into the result.
    void end(EndedBy reason, const std::string& trouble = {});

    [[nodiscard]] EndedBy ended_by() const { return session_.ended_by(); }
    [[nodiscard]] const SessionProgress& progress() const { return session_.progress(); }
    /// Once, after the end: writes the take, removes the journal and analyses what was written. Does not throw what
    /// Recording::trouble can say.
    [[nodiscard]] Recording finish(const CaptureCounts& counts);

private:
    void guard_journal(const std::function<void()>& work);

    std::filesystem::path destination_;
    JournalWriter journal_;
    TakeSession session_;
    std::string trouble_;
};

} // namespace retap::audio
