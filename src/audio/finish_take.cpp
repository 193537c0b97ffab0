#include "audio/finish_take.hpp"

#include "audio/enhanced_device.hpp"
#include "audio/journal.hpp"
#include "audio/sound_writer.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

using journal_format::RecordKind;

/// The pieces of a journal that go into the take, in order, with the gaps between them.
class Pieces {
public:
    Pieces(const std::filesystem::path& journal, const std::optional<std::vector<Span>>& spans)
        : reader_(journal), channels_(static_cast<std::size_t>(reader_.head().format.channels)), spans_(spans) {}

    [[nodiscard]] const JournalHead& head() const { return reader_.head(); }

    [[nodiscard]] const JournalReader::Damage& damage() const { return reader_.damage(); }

    /// Calls on_samples(position, samples), on_gap(lost_frames) and on_damage().
    template <class OnSamples, class OnGap, class OnDamage>
    void visit(OnSamples on_samples, OnGap on_gap, OnDamage on_damage) {
        JournalReader::Record record;
        while (reader_.next(record)) {
            if (record.after_damage) {
                on_damage();
            }
            if (record.kind == RecordKind::gap) {
                on_gap(record.lost_frames);
            } else if (record.kind == RecordKind::samples) {
                const Span all{.begin = record.position, .end = record.position + record.samples.size() / channels_};
                for (const Span& part : spans_ ? common(all, *spans_) : std::vector{all}) {
                    on_samples(part.begin, record.samples.subspan((part.begin - all.begin) * channels_,
                                                                  (part.end - part.begin) * channels_));
                }
            }
        }
    }

private:
    JournalReader reader_;
    std::size_t channels_;
    const std::optional<std::vector<Span>>& spans_;
};

struct Survey {
    std::uint64_t frames = 0;
    std::vector<Join> joins;
    JournalReader::Damage damage;
};

/// Joins stand at the head of the file, so they are looked for before the sound is copied.
Survey survey(Pieces pieces) {
    const auto channels = static_cast<std::size_t>(pieces.head().format.channels);
    Survey found;
    bool gap_open = false;
    bool damaged = false; // what was left out on purpose there cannot be told from what was lost
    std::uint64_t lost = 0;
    std::uint64_t expected = 0;
    const auto on_samples = [&](std::uint64_t position, std::span<const float> samples) {
        const bool jumped = expected != position;
        if (found.frames > 0 && (jumped || gap_open || damaged)) {
            // What was lost within a pause is part of it: nothing was kept there anyway.
            found.joins.push_back({.at_frame = found.frames,
                                   .kind = jumped && !damaged ? Join::Kind::pause : Join::Kind::gap,
                                   .missing_frames = jumped ? position - expected : lost});
        }
        gap_open = false;
        damaged = false;
        lost = 0;
        found.frames += samples.size() / channels;
        expected = position + samples.size() / channels;
    };
    const auto on_gap = [&](std::uint64_t frames) {
        gap_open = true;
        lost += frames;
    };
    pieces.visit(on_samples, on_gap, [&] { damaged = true; });
    found.damage = pieces.damage();
    return found;
}

std::string damage_warning(const JournalReader::Damage& damage) {
    return "Part of this recording was damaged on the disk: " + std::to_string(damage.bytes) + " bytes in " +
           std::to_string(damage.stretches) + (damage.stretches == 1 ? " place" : " places") +
           " could not be read, so taps may be missing. Record again if you can.";
}

} // namespace

std::optional<FinishedTake> finish_take(const std::filesystem::path& journal,
                                        const std::optional<std::vector<Span>>& spans,
                                        const std::filesystem::path& destination, CaptureNote note) {
    const Survey found = survey(Pieces(journal, spans));
    if (found.frames == 0) {
        return std::nullopt;
    }
    Pieces pieces(journal, spans);
    const JournalHead head = pieces.head();
    note.take_id = head.take_id;
    note.device = head.device;
    note.started = head.started;
    note.kept_everything = head.keep_all;
    note.joins = found.joins;
    if (const auto warning = enhancement_warning(head.device); !warning.empty()) {
        note.warnings.emplace_back(warning);
    }
    if (found.damage.stretches > 0) {
        note.warnings.push_back(damage_warning(found.damage));
    }
    SoundWriter writer(destination, head.format.sample_rate_hz, head.format.channels, format_for(destination));
    writer.set_comment(write_note(note));
    pieces.visit([&](std::uint64_t /*position*/, std::span<const float> samples) { writer.write(samples); },
                 [](std::uint64_t /*lost_frames*/) {}, [] {});
    writer.commit(Existing::refuse);
    return FinishedTake{.file = destination,
                        .note = std::move(note),
                        .duration_s = static_cast<double>(found.frames) / head.format.sample_rate_hz};
}

} // namespace retap::audio
