// The whole run: every simulated patient through everything that was asked for.
#pragma once

#include "validate/contact_times.hpp"
#include "validate/echoes.hpp"
#include "validate/options.hpp"
#include "validate/pairs.hpp"
#include "validate/taps_found.hpp"

#include <vector>

namespace retap::validate {

/// Ordered by patient, then family, then condition, whatever the number of cores.
struct Results {
    std::vector<PairResult> pairs{};
    std::vector<ContactResult> contacts{};
    std::vector<TapsResult> taps{};
    std::vector<EchoResult> echoes{};
};

/// Same options, same results, on one machine and build. Throws InputError when the recorded strikes are not installed.
[[nodiscard]] Results study_all(const Options& options);

} // namespace retap::validate
