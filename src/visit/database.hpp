// SQL on a database, as the store uses it: on one SQLite file (sqlite_database) or on a server (postgres_database).
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

namespace retap::visit {

/// A value bound to a ? of a statement; std::monostate is NULL.
using SqlValue = std::variant<std::monostate, std::int64_t, std::string, std::span<const std::byte>>;

/// One row of a result: texts and integers. No blobs, see Database::blob.
class SqlRow {
public:
    void push(std::optional<std::string> value) { columns_.push_back(std::move(value)); }
    [[nodiscard]] bool is_null(std::size_t column) const { return !columns_.at(column); }
    /// Throws StoreError for NULL.
    [[nodiscard]] const std::string& text(std::size_t column) const;
    /// Throws StoreError for NULL and for what is no whole number.
    [[nodiscard]] std::int64_t integer(std::size_t column) const;

private:
    std::vector<std::optional<std::string>> columns_;
};

/// Not for use from several threads at once; several objects on one database are fine. Waits up to ten seconds for
/// another writer. Every fault is a StoreError that says which database, what was being done, and what to try.
/// Statements have a ? for each value, and no question mark besides.
class Database {
public:
    Database() = default;
    virtual ~Database() = default;
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;
    Database(Database&&) = delete;
    Database& operator=(Database&&) = delete;

    /// `doing` completes "Cannot ..." in messages.
    virtual void execute(const std::string& doing, const std::string& sql,
                         const std::vector<SqlValue>& values = {}) = 0;
    [[nodiscard]] virtual std::vector<SqlRow> query(const std::string& doing, const std::string& sql,
                                                    const std::vector<SqlValue>& values = {}) = 0;
    /// The bytes in the first column of the first row; nothing without a row.
    [[nodiscard]] virtual std::optional<std::vector<std::byte>> blob(const std::string& doing, const std::string& sql,
                                                                     const std::vector<SqlValue>& values = {}) = 0;
    /// Several statements without values, one after the other, as in a schema.
    void script(const std::string& doing, const std::vector<std::string>& statements);

    /// What messages call it: a file, or an address without its password.
    [[nodiscard]] virtual std::string name() const = 0;
    /// A condition with one ?, true when the text in the column is LIKE the value, with \ before what means itself, and
    /// ASCII letters of either case.
    [[nodiscard]] virtual std::string like(const std::string& column) const = 0;

protected:
    friend class Transaction;
    /// write: what is read inside stays true until commit, as far as the store holds what it reads (SqlStore::hold).
    /// Without it everything is read as it was at one moment, beside a writer.
    virtual void begin(const std::string& doing, bool write) = 0;
    virtual void commit(const std::string& doing);
    virtual void roll_back(const std::string& doing);
};

/// Rolls back without commit(). Not to be nested.
class Transaction {
public:
    enum class Access { write, snapshot };
    Transaction(Database& database, std::string doing, Access access = Access::write);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    Transaction(Transaction&&) = delete;
    Transaction& operator=(Transaction&&) = delete;

    void commit();

private:
    Database& database_;
    std::string doing_;
    bool open_ = true;
};

} // namespace retap::visit
