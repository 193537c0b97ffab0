#include "visit/open_store.hpp"

#include "error.hpp"
#include "visit/sqlite_store.hpp"
#ifdef RETAP_WITH_POSTGRESQL
#include "visit/postgres_store.hpp"
#endif

namespace retap::visit {

bool is_server(const std::string& place) {
    return place.starts_with("postgresql://") || place.starts_with("postgres://");
}

namespace {

std::unique_ptr<SqlStore> open_either(const std::string& place) {
    if (!is_server(place)) {
        return std::make_unique<SqliteStore>(place);
    }
#ifdef RETAP_WITH_POSTGRESQL
    return std::make_unique<PostgresStore>(place);
#else
    throw UsageError("This retap was built without PostgreSQL and keeps visits in files only. Install libpq-dev and "
                     "libsoci-postgresql4.0 and build it again, or give a file with --store.");
#endif
}

} // namespace

std::unique_ptr<VisitStore> open_store(const std::string& place) {
    return open_either(place);
}

std::unique_ptr<CarryEnd> open_carry_end(const std::string& place) {
    return open_either(place);
}

} // namespace retap::visit
