// SQL on a PostgreSQL server. Part of the stores; not for others. Built only with RETAP_WITH_POSTGRESQL.
#pragma once

#include "visit/soci_database.hpp"

namespace retap::visit {

/// `address` is what PostgreSQL's own client library takes: postgresql://[login@]host[:port]/database, also with
/// ?service=NAME; what it leaves out comes from the service file, the environment and ~/.pgpass as for every such
/// program. Where none of these says otherwise, a connection that leaves this computer is encrypted and the server has
/// to show a certificate for its name that an authority known here has signed (sslmode=verify-full).
/// A connection that was lost is made again at the next transaction or query outside of one.
class PostgresDatabase : public SociDatabase {
public:
    /// Throws StoreError when the server cannot be reached or lets nobody in, and UsageError for what is no address.
    explicit PostgresDatabase(const std::string& address);

    void execute(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values = {}) override;
    [[nodiscard]] std::vector<SqlRow> query(const std::string& doing, const std::string& sql,
                                            const std::vector<SqlValue>& values = {}) override;
    /// Of a column of the type bytea.
    [[nodiscard]] std::optional<std::vector<std::byte>> blob(const std::string& doing, const std::string& sql,
                                                             const std::vector<SqlValue>& values = {}) override;

    [[nodiscard]] std::string name() const override { return name_; }
    /// The C collation knows ASCII letters alone.
    [[nodiscard]] std::string like(const std::string& column) const override {
        return "lower(" + column + R"( COLLATE "C") LIKE lower(CAST(? AS text) COLLATE "C") ESCAPE '\')";
    }

protected:
    void begin(const std::string& doing, bool write) override;
    void commit(const std::string& doing) override;
    void roll_back(const std::string& doing) override;
    void bind_bytes(Prepared& prepared, std::span<const std::byte> bytes, Bound& bound) override;
    [[nodiscard]] std::string spelled(const std::string& sql) const override;
    [[nodiscard]] StoreError fault(const std::string& doing, const std::exception& cause) const override;

private:
    void connect();
    [[nodiscard]] bool lost() const;
    /// Does it, and once more over a new connection when the old one turns out to be lost and nothing hangs on it.
    template <class Action>
    auto again_if_lost(Action action);

    std::string address_; ///< everything that was said, as "key='value' ..."
    std::string name_;
    bool in_transaction_ = false;
};

} // namespace retap::visit
