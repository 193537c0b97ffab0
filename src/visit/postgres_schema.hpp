// The tables of a visit store on a server, and how older ones become present ones. Part of postgres_store.
#pragma once

#include "visit/database.hpp"

#include <functional>

namespace retap::visit {

/// The schema that this program writes; stands in the table `version`.
extern const int postgres_schema_version;

/// Makes the tables, or brings older ones up to date, in one transaction, as bring_up_to_date does for a file. Whoever
/// does that first owns them.
void set_up_school(Database& database, const std::function<void()>& derive);

/// Throws StoreError when there are no tables, or older or newer ones than this program knows.
void check_school(Database& database);

} // namespace retap::visit
