// The built program's visit commands, on a store in the test's own folder.
#pragma once

#include "run_program.hpp"

#include <string>
#include <utility>
#include <vector>

namespace retap::test {

/// Runs `retap visit ARGUMENTS --store visits.db` in `folder`.
inline Outcome visit(const TempFolder& folder, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "visit");
    arguments.insert(arguments.end(), {"--store", "visits.db"});
    return run_retap(folder.path(), std::move(arguments));
}

} // namespace retap::test
