// The tables of a visit store in a file, and how older ones become present ones.
#pragma once

#include "visit/database.hpp"

#include <functional>

namespace retap::visit {

/// The schema that this program writes. Stands in the file as PRAGMA user_version.
inline constexpr int schema_version = 3;

/// Makes the tables of an empty file, or brings older ones up to date, in one transaction. Entries and takes are never
/// touched by a migration: what it adds to other tables is filled in from them by `derive`, which is called inside the
/// transaction after the tables of an older store were changed. Throws
/// StoreError for a file that is no visit store or was written by a newer program.
void bring_up_to_date(Database& database, const std::function<void()>& derive);

} // namespace retap::visit
