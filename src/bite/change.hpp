// What was done to a bite between two takes.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace retap::bite {

/// The surface of one pair was built up or taken down.
struct HeightChange {
    std::size_t pair = 0;
    double height_um = 0.0; ///< positive: meets earlier (a high spot); negative: lower, out of contact when enough
};

/// One pair meets on an incline first and leads the jaw sideways into its place.
struct Slide {
    std::size_t pair = 0;
    double distance_um = 0.0;  ///< sideways, until the jaw has settled; 50 to 1500
    double incline_deg = 25.0; ///< 5 to 45; the pair meets early by distance x tan(incline)
};

/// All of it; an empty change is the bite as it was.
struct BiteChange {
    std::vector<HeightChange> heights{}; ///< heights on one pair add up
    std::optional<Slide> slide{};
};

} // namespace retap::bite
