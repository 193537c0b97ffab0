// SQL on one SQLite file through SOCI. The one place that includes SOCI.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
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

/// Not for use from several threads at once; several objects on one file are fine. Waits up to ten seconds for another
/// writer. Every fault is a StoreError that names the file, what was being done, and what to try.
class Database {
public:
    enum class Access { write, read };
    /// write: opens or creates the file and sets it up: write-ahead log, every commit synced to the disk, freed space
    /// overwritten. read: opens what is there and leaves no trace beside it, so that it can lie where nothing can be
    /// written; nobody else may write to it then.
    explicit Database(const std::filesystem::path& file, Access access = Access::write);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;
    Database(Database&&) = delete;
    Database& operator=(Database&&) = delete;

    /// `doing` completes "Cannot ..." in messages.
    void execute(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values = {});
    /// The same without waiting for another writer; whether it was done.
    bool execute_at_once(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values = {});
    [[nodiscard]] std::vector<SqlRow> query(const std::string& doing, const std::string& sql,
                                            const std::vector<SqlValue>& values = {});
    /// The blob in the first column of the first row; nothing without a row.
    [[nodiscard]] std::optional<std::vector<std::byte>> blob(const std::string& doing, const std::string& sql,
                                                             const std::vector<SqlValue>& values = {});
    /// Several statements without values, one after the other, as in a schema.
    void script(const std::string& doing, const std::vector<std::string>& statements);

    [[nodiscard]] const std::filesystem::path& file() const { return file_; }
    [[nodiscard]] bool can_write() const { return access_ == Access::write; }

private:
    struct Session;
    void use_write_ahead_log(const std::string& doing);
    [[noreturn]] void fail(const std::string& doing, const std::exception& cause) const;

    std::filesystem::path file_;
    Access access_;
    std::unique_ptr<Session> session_;
};

/// write: takes the write lock at once, so that what is read inside stays true until commit(). snapshot: reads
/// everything as it was at one moment, beside a writer. Rolls back without commit(). Not to be nested.
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
