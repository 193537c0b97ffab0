// Several measures at once: is one group's centre somewhere else?
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::compare {

/// Hotelling's T squared and the F it turns into.
struct HotellingTest {
    double t_squared = 0.0;
    double f = 0.0;
    double degrees_top = 0.0;
    double degrees_bottom = 0.0;
    double p = 1.0; ///< chance of a T squared this large if the centres were the same
};

/// Rows are observations, all of the same length p >= 1 (asserted). Johnson RA, Wichern DW, Applied Multivariate
/// Statistical Analysis, ch. 5: needs more rows than p. Nothing is returned with fewer, or when the measures do not
/// vary independently (singular covariance): leave measures out then.
[[nodiscard]] std::optional<HotellingTest> hotelling_one_group(std::span<const std::vector<double>> rows,
                                                               std::span<const double> centre);

/// Two groups with one covariance in common (ch. 6 of the same): needs n1 + n2 - 2 >= p and a regular pooled
/// covariance. With p = 1 it is the square of the two-group t test with pooled variance.
[[nodiscard]] std::optional<HotellingTest> hotelling_two_groups(std::span<const std::vector<double>> first,
                                                                std::span<const std::vector<double>> second);

} // namespace retap::compare
