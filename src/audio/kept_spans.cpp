#include "audio/kept_spans.hpp"

#include <algorithm>
#include <cstdint>
#include <vector>

namespace retap::audio {

std::vector<Span> spans_around(std::vector<std::uint64_t> taps, std::uint64_t margin) {
    std::sort(taps.begin(), taps.end());
    std::vector<Span> spans;
    for (const std::uint64_t tap : taps) {
        const Span span{.begin = tap - std::min(tap, margin), .end = tap + margin};
        if (!spans.empty() && span.begin <= spans.back().end) {
            spans.back().end = span.end;
        } else {
            spans.push_back(span);
        }
    }
    return spans;
}

std::vector<Span> common(Span piece, const std::vector<Span>& spans) {
    std::vector<Span> parts;
    for (const Span& span : spans) {
        const Span part{.begin = std::max(piece.begin, span.begin), .end = std::min(piece.end, span.end)};
        if (part.begin < part.end) {
            parts.push_back(part);
        }
    }
    return parts;
}

} // namespace retap::audio
