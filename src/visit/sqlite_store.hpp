// The store in one SQLite file.
#pragma once

#include "visit/sql_store.hpp"

#include <filesystem>

namespace retap::visit {

class SqliteDatabase;

/// One file, readable by its owner alone, with the write-ahead log beside it while it is open. Not for use from several
/// threads at once; each opens its own. Keep it on a local disk: locks of network file systems are not to be relied on.
/// Where nothing can be written, as on a disk that is read-only, visits are read all the same, and every write is a
/// StoreError that says so.
class SqliteStore : public SqlStore {
public:
    /// Opens, creates or brings up to date. Throws StoreError.
    explicit SqliteStore(const std::filesystem::path& file);

    void backup(const std::filesystem::path& destination) override;

protected:
    void insert_take(VisitId id, int number, const TakeContent& content) override;
    std::optional<TakeContent> find_take(VisitId id, int entry) override;
    void take_out(const Tombstone& tombstone) override;
    void after_erasing(VisitId id) override;

private:
    explicit SqliteStore(const std::shared_ptr<SqliteDatabase>& database);
    /// Writes the file anew without anything that is no longer in it, and empties the log. Throws StoreError when
    /// another program keeps it from that; the next opening for writing tries again.
    void rebuild();
    void finish_what_was_begun();

    SqliteDatabase& file_;
};

} // namespace retap::visit
