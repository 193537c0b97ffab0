// The stretches of a recording that lie around its taps.
#pragma once

#include <cstdint>
#include <vector>

namespace retap::audio {

/// How much is kept before and after every tap. More would be talk.
inline constexpr double kept_margin_s = 0.5;

/// Frames [begin, end).
struct Span {
    std::uint64_t begin = 0;
    std::uint64_t end = 0;
    bool operator==(const Span&) const = default;
};

/// `margin` frames before and after every tap, joined where they meet; by place. `taps` in any order.
[[nodiscard]] std::vector<Span> spans_around(std::vector<std::uint64_t> taps, std::uint64_t margin);

/// What `piece` has in common with `spans` (by place), by place.
[[nodiscard]] std::vector<Span> common(Span piece, const std::vector<Span>& spans);

} // namespace retap::audio
