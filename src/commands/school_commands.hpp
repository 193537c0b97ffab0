// What the school commands share.
#pragma once

#include "visit_commands.hpp"

namespace retap::commands {

void add_school_carry(Command group, const StoreOption& store); ///< carry, fetch, kept

void add_cohort(Command program);

} // namespace retap::commands
