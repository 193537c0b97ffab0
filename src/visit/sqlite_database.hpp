// SQL on one SQLite file. Part of the stores; not for others.
#pragma once

#include "visit/soci_database.hpp"

#include <filesystem>

namespace retap::visit {

class SqliteDatabase : public SociDatabase {
public:
    enum class Access { write, read };
    /// write: opens or creates the file and sets it up: write-ahead log, every commit synced to the disk, freed space
    /// overwritten. read: opens what is there and leaves no trace beside it, so that it can lie where nothing can be
    /// written; nobody else may write to it then.
    explicit SqliteDatabase(const std::filesystem::path& file, Access access = Access::write);

    /// As execute, without waiting for another writer; whether it was done.
    bool execute_at_once(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values = {});
    [[nodiscard]] std::optional<std::vector<std::byte>> blob(const std::string& doing, const std::string& sql,
                                                             const std::vector<SqlValue>& values = {}) override;

    [[nodiscard]] std::string name() const override { return file_.string(); }
    [[nodiscard]] std::string like(const std::string& column) const override {
        return column + R"( LIKE ? ESCAPE '\')";
    }
    [[nodiscard]] bool can_write() const { return access_ == Access::write; }

protected:
    void begin(const std::string& doing, bool write) override;
    void bind_bytes(Prepared& prepared, std::span<const std::byte> bytes, Bound& bound) override;
    [[nodiscard]] StoreError fault(const std::string& doing, const std::exception& cause) const override;

private:
    void use_write_ahead_log(const std::string& doing);

    std::filesystem::path file_;
    Access access_;
};

} // namespace retap::visit
