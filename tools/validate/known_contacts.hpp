// What could be told if the true contact times were known: a ceiling for whatever listens.
#pragma once

#include "validate/simulated.hpp"

namespace retap::validate {

/// How far two takes are apart by their true contact times, in milliseconds: of each pair of teeth the median time
/// after the median contact of its tap, and the largest difference of any pair. Larger is less alike. Only the first
/// contact of a pair in each tap counts.
[[nodiscard]] double known_contacts_distance(const HeardTake& before, const HeardTake& after);

} // namespace retap::validate
