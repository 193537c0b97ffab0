// A store by what was said of its place: a file, or a server.
#pragma once

#include "visit/carry_end.hpp"
#include "visit/store.hpp"

#include <memory>
#include <string>

namespace retap::visit {

/// Whether `place` is the address of a server, postgresql://..., and not a file.
[[nodiscard]] bool is_server(const std::string& place);

/// Throws StoreError when it cannot be opened, and UsageError for a server when this program was built without
/// PostgreSQL. A file that is not there is made.
[[nodiscard]] std::unique_ptr<VisitStore> open_store(const std::string& place);

/// The same as one end of carrying.
[[nodiscard]] std::unique_ptr<CarryEnd> open_carry_end(const std::string& place);

} // namespace retap::visit
