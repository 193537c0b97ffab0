// What both databases have in common, which is SOCI. The one place that includes it; for sqlite_database and
// postgres_database only.
#pragma once

#include "error.hpp"
#include "visit/database.hpp"

#include <exception>
#include <memory>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
#ifdef RETAP_WITH_POSTGRESQL
#include <soci/postgresql/soci-postgresql.h>
#endif

namespace retap::visit {

class SociDatabase : public Database {
public:
    void execute(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values = {}) override;
    [[nodiscard]] std::vector<SqlRow> query(const std::string& doing, const std::string& sql,
                                            const std::vector<SqlValue>& values = {}) override;

protected:
    /// Values must stay where they are while a statement uses them, so they are copied here first.
    struct Bound {
        std::vector<std::string> texts;
        std::vector<long long> integers;
        std::vector<std::unique_ptr<soci::blob>> blobs;
        soci::indicator null = soci::i_null;
        std::string nothing;
    };
    using Prepared = soci::details::prepare_temp_type;

    [[nodiscard]] soci::session& session() { return session_; }
    [[nodiscard]] const soci::session& session() const { return session_; }
    void bind(Prepared& prepared, const std::vector<SqlValue>& values, Bound& bound);
    virtual void bind_bytes(Prepared& prepared, std::span<const std::byte> bytes, Bound& bound) = 0;
    /// The statement as this database wants its values marked.
    [[nodiscard]] virtual std::string spelled(const std::string& sql) const { return sql; }
    [[nodiscard]] virtual StoreError fault(const std::string& doing, const std::exception& cause) const = 0;

private:
    soci::session session_;
};

} // namespace retap::visit
