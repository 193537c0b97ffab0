// Taps by side and by take, and how what describes them varies within and between these.
#pragma once

#include "compare/scatter_matrix.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace retap::compare {

/// The figures that describe one tap.
using Row = std::vector<double>;

/// Where taps come from. `side` (0 or 1) and `take` have one entry a tap, `kept` names those that take part.
struct TapGroups {
    std::vector<std::size_t> side;
    std::vector<std::size_t> take; ///< no take lies on both sides
    std::vector<std::size_t> kept;
};

/// Rows of the kept taps in their groups. Both sides have a kept tap (asserted); rows are of one length.
class GroupedRows {
public:
    GroupedRows(const TapGroups& groups, const std::vector<Row>& rows);

    [[nodiscard]] Row difference() const;              ///< side 1's centre less side 0's
    [[nodiscard]] const ScatterMatrix& within() const; ///< sums of products about the takes' centres
    [[nodiscard]] std::size_t degrees() const;         ///< of freedom in within()
    [[nodiscard]] double variance_share() const;       ///< variance of difference(), in variances of a tap
    [[nodiscard]] double seat_share() const;           ///< and in variances between two seats
    [[nodiscard]] std::size_t repeats() const;         ///< takes beyond the first of each side
    /// Variance of a figure between two seats of one side, mean over figures, beyond the scatter of the taps; 0 without
    /// repeats.
    [[nodiscard]] double seat_variance() const;

private:
    std::size_t figures_;
    std::size_t kept_;
    ScatterMatrix within_;
    std::size_t degrees_ = 0;
    std::size_t takes_ = 0;
    std::array<Row, 2> centre_;
    double variance_share_ = 0.0;
    double seat_share_ = 0.0;
    double between_takes_ = 0.0; // sum of squares over takes and figures, about the side's centre
};

} // namespace retap::compare
