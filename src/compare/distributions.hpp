// The distributions the statistics rest on: probabilities and the values that go with them.
//
// `p` is a probability strictly between 0 and 1, degrees of freedom are positive and need not be whole (all asserted).
// Accuracy is near that of double precision; 1e-9 relative is checked against GSL.
#pragma once

namespace retap::compare {

/// Standard normal: probability of a value at or below z, and the z below which the part p lies.
[[nodiscard]] double normal_below(double z);
[[nodiscard]] double normal_quantile(double p);

/// Student's t. t may be infinite.
[[nodiscard]] double student_below(double t, double degrees);
[[nodiscard]] double student_above(double t, double degrees); ///< keeps its digits where student_below is nearly 1
[[nodiscard]] double student_quantile(double p, double degrees);

/// Chi squared.
[[nodiscard]] double chi_squared_quantile(double p, double degrees);

} // namespace retap::compare
