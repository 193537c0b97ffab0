// The journal: sound goes to disk as it comes, so that a killed program, a full disk or lost power cost at most the
// last moment of a take.
#pragma once

#include "audio/file_descriptor.hpp"
#include "audio/journal_format.hpp"
#include "audio/sound_sink.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace retap::audio {

/// What stands at the head of a journal.
struct JournalHead {
    std::string take_id{};               ///< tells takes apart; also stands in the finished take
    std::filesystem::path destination{}; ///< where the take shall go, absolute
    StreamFormat format{};
    std::string device{};  ///< as shown to people
    std::string started{}; ///< local date and time, as shown to people
    bool keep_all = false;
};

/// Writes a journal. Everything given to samples(), gap() and tap() has left the program when the call returns, so
/// killing it loses nothing; lost power costs what came since the last sync, at most `sync_every_s` of sound.
class JournalWriter {
public:
    /// Creates `path` and makes its head and its name safe on disk. Holds a lock on the file for as long as it lives,
    /// which tells a running recording from an abandoned one. Throws InputError.
    JournalWriter(std::filesystem::path path, const JournalHead& head, double sync_every_s = 0.5);

    /// Throws InputError when the disk is full or fails; what was written before stays readable, and nothing can be
    /// added any more.
    void samples(std::uint64_t position, std::span<const float> interleaved);
    void gap(std::uint64_t position, std::uint64_t lost_frames);
    void tap(std::uint64_t position);
    /// Everything so far survives a loss of power once this returns. Throws InputError.
    void sync();

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    [[nodiscard]] std::uint64_t frames() const { return frames_; }

private:
    void append(journal_format::RecordHead head, std::span<const float> payload);
    [[noreturn]] void refuse(const std::string& doing);

    std::filesystem::path path_;
    FileDescriptor file_;
    StreamFormat format_;
    std::uint64_t sync_every_frames_;
    std::uint64_t number_ = 0;
    std::uint64_t frames_ = 0;
    std::uint64_t unsynced_frames_ = 0;
    bool broken_ = false;
};

/// Reads a journal, finished, torn or damaged: every record that is whole, in order. What lies between two of them and
/// is none is passed over and counted.
class JournalReader {
public:
    /// Throws InputError when the file cannot be read or has no whole head.
    explicit JournalReader(const std::filesystem::path& path);

    [[nodiscard]] const JournalHead& head() const { return head_; }

    struct Record {
        journal_format::RecordKind kind = journal_format::RecordKind::samples;
        std::uint64_t position = 0;
        std::uint64_t lost_frames = 0;  ///< of a gap
        bool after_damage = false;      ///< something that could not be read lies before it
        std::span<const float> samples; ///< of samples; valid until the next call
    };
    /// False at the end. torn() then says whether something followed that could not be read.
    [[nodiscard]] bool next(Record& record);
    [[nodiscard]] bool torn() const { return torn_; }

    /// What was passed over so far. A last record that was cut short is no damage: that is how a kill looks.
    struct Damage {
        std::uint64_t stretches = 0;
        std::uint64_t bytes = 0;
    };
    [[nodiscard]] const Damage& damage() const { return damage_; }

private:
    enum class Found { whole, end, cut, wrong };
    [[nodiscard]] Found look_at(std::uint64_t offset, journal_format::RecordHead& head);
    [[nodiscard]] std::optional<std::uint64_t> next_whole(std::uint64_t from);

    FileDescriptor file_;
    JournalHead head_;
    std::vector<float> payload_;
    std::uint64_t offset_ = 0;
    std::uint64_t number_ = 0;
    Damage damage_;
    bool torn_ = false;
};

/// False when the file ends within its head: the recording was interrupted before any sound was kept.
[[nodiscard]] bool has_whole_head(const std::filesystem::path& path);

/// Takes the lock of a journal that no running program holds. Not open when one does, or when the file is gone. Nobody
/// else can recover or remove the journal for as long as the result lives.
[[nodiscard]] FileDescriptor lock_abandoned(const std::filesystem::path& path);

} // namespace retap::audio
