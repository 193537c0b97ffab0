#include "audio/journal_taps.hpp"

#include "audio/journal.hpp"
#include "audio/take_listener.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <vector>

namespace retap::audio {
namespace {

using journal_format::RecordKind;

/// In less sound a tap cannot be told from the noise it would have to stand out of, which passes for one then.
constexpr double shortest_with_taps_s = 0.1;

/// Where a stretch without a jump begins, as heard and as received.
struct HeardStretch {
    std::uint64_t heard = 0;
    std::uint64_t position = 0;
};

std::uint64_t position_of(std::uint64_t heard, const std::vector<HeardStretch>& stretches) {
    const auto next =
        std::find_if(stretches.begin(), stretches.end(), [&](const HeardStretch& s) { return s.heard > heard; });
    const HeardStretch& stretch = next == stretches.begin() ? stretches.front() : *(next - 1);
    return stretch.position + (heard - std::min(heard, stretch.heard));
}

} // namespace

std::optional<std::vector<Span>> spans_to_recover(const std::filesystem::path& journal) {
    JournalReader reader(journal);
    const StreamFormat format = reader.head().format;
    if (reader.head().keep_all) {
        return std::nullopt;
    }
    const auto margin = static_cast<std::uint64_t>(std::llround(kept_margin_s * format.sample_rate_hz));
    TakeListener listener(format);
    std::vector<std::uint64_t> taps;
    std::vector<HeardStretch> stretches;
    std::uint64_t heard = 0;
    std::uint64_t expected = 0;
    JournalReader::Record record;
    while (reader.next(record)) {
        if (record.kind == RecordKind::tap) {
            taps.push_back(record.position);
        } else if (record.kind == RecordKind::gap) {
            listener.gap(record.lost_frames);
        } else {
            if (stretches.empty() || record.position != expected || record.after_damage) {
                if (!stretches.empty() && record.after_damage) {
                    listener.gap(record.position - std::min(record.position, expected));
                } else if (!stretches.empty()) {
                    listener.pause();
                }
                stretches.push_back({.heard = heard, .position = record.position});
            }
            const std::uint64_t frames = record.samples.size() / static_cast<std::size_t>(format.channels);
            listener.block(record.samples);
            heard += frames;
            expected = record.position + frames;
        }
    }
    if (heard == 0) {
        return std::vector<Span>{};
    }
    if (static_cast<double>(heard) < shortest_with_taps_s * format.sample_rate_hz) {
        return spans_around(std::move(taps), margin);
    }
    for (const dsp::Tap& tap : listener.finish().taps) {
        const auto onset = static_cast<std::uint64_t>(std::llround(tap.onset_s * format.sample_rate_hz));
        taps.push_back(position_of(onset, stretches));
    }
    return spans_around(std::move(taps), margin);
}

} // namespace retap::audio
