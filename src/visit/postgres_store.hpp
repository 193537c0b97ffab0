// The store on a PostgreSQL server, shared by the chairs of a clinic.
#pragma once

#include "visit/sql_store.hpp"

#include <string>

namespace retap::visit {

class PostgresDatabase;

/// Not for use from several threads at once; each opens its own. A connection that was lost is made again by itself; a
/// write that was cut off in the middle is a StoreError, and was done wholly or not at all. Built only with
/// RETAP_WITH_POSTGRESQL.
class PostgresStore : public SqlStore {
public:
    /// `address`: see PostgresDatabase. Throws StoreError; also when the store there was not set up or is of another
    /// version.
    explicit PostgresStore(const std::string& address);
    /// Makes the tables, or brings older ones up to date.
    static void set_up(const std::string& address);

    /// Refused: the server's own tools back up everything at once, with its logins and rights.
    void backup(const std::filesystem::path& destination) override;

protected:
    void hold(VisitId id) override;
    void insert_take(VisitId id, int number, const TakeContent& content) override;
    std::optional<TakeContent> find_take(VisitId id, int entry) override;
    void take_out(const Tombstone& tombstone) override;

private:
    explicit PostgresStore(const std::shared_ptr<PostgresDatabase>& database);

    PostgresDatabase& server_;
};

} // namespace retap::visit
