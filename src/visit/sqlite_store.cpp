#include "visit/sqlite_store.hpp"

#include "visit/sqlite_database.hpp"
#include "visit/sqlite_schema.hpp"
#include "visit/store_place.hpp"

namespace retap::visit {

namespace {

/// What can be done with the store; one that can be written to is for its owner alone from now on.
SqliteDatabase::Access access_to(const std::filesystem::path& file) {
    if (only_for_reading(file)) {
        return SqliteDatabase::Access::read;
    }
    make_private(file);
    return SqliteDatabase::Access::write;
}

} // namespace

SqliteStore::SqliteStore(const std::filesystem::path& file)
    : SqliteStore(std::make_shared<SqliteDatabase>(file, access_to(file))) {}

SqliteStore::SqliteStore(const std::shared_ptr<SqliteDatabase>& database) : SqlStore(database), file_(*database) {
    bring_up_to_date(file_, [this] { refresh_all_summaries(); });
    finish_what_was_begun();
}

void SqliteStore::insert_take(VisitId id, int number, const TakeContent& content) {
    file_.execute(
        "keep a take", "INSERT INTO take (visit_id, number, flac, analysis, settings) VALUES (?, ?, ?, ?, ?)",
        {id, std::int64_t{number}, std::span<const std::byte>(content.flac), content.analysis, content.settings});
}

std::optional<TakeContent> SqliteStore::find_take(VisitId id, int entry) {
    const std::vector<SqlValue> key = {id, std::int64_t{entry}};
    const auto documents =
        file_.query("read a take", "SELECT analysis, settings FROM take WHERE visit_id = ? AND number = ?", key);
    auto flac = file_.blob("read a take", "SELECT flac FROM take WHERE visit_id = ? AND number = ?", key);
    if (documents.empty() || !flac) {
        return std::nullopt;
    }
    return TakeContent{std::move(*flac), documents.front().text(0), documents.front().text(1)};
}

} // namespace retap::visit
