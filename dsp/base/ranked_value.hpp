// The value of a given rank among many that have changed little since last time.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// Finds the value that would stand at `rank` (0-based, asserted) if `values` were sorted. `guess`: what it is likely
/// to be near, 0 or more; a wrong guess costs time, never the result. With values from 0 up and a guess within a tenth
/// of the result only those near it are put in order, several times faster than ordering all.
class RankedValue {
public:
    [[nodiscard]] double find(std::span<const double> values, std::size_t rank, double guess);

private:
    std::vector<double> near_;
};

} // namespace retap::dsp
