#include "visit/postgres_store.hpp"

#include "error.hpp"
#include "visit/postgres_database.hpp"
#include "visit/postgres_schema.hpp"

#include <algorithm>
#include <span>

namespace retap::visit {

namespace {

/// A sound goes over the network in parts of this size, so that neither side holds several copies of a long one.
constexpr std::size_t part_size = std::size_t{256} << 10U;

} // namespace

PostgresStore::PostgresStore(const std::shared_ptr<PostgresDatabase>& database)
    : SqlStore(database), server_(*database) {}

PostgresStore::PostgresStore(const std::string& address) : PostgresStore(std::make_shared<PostgresDatabase>(address)) {
    check_school(server_);
}

void PostgresStore::set_up(const std::string& address) {
    const auto database = std::make_shared<PostgresDatabase>(address);
    PostgresStore store(database);
    set_up_school(*database, [&store] { store.refresh_all_summaries(); });
}

void PostgresStore::backup(const std::filesystem::path& destination) {
    (void)destination;
    throw UsageError(
        "A store on a server is backed up by the server's own tools, with everybody's visits at once: "
        "pg_dump --format=custom --schema=retap. A single visit goes into a file with: retap visit export");
}

void PostgresStore::hold(VisitId id) {
    (void)server_.query("add to a visit", "SELECT pg_advisory_xact_lock(?)::text", {id});
}

void PostgresStore::insert_take(VisitId id, int number, const TakeContent& content) {
    const std::string doing = "keep a take";
    server_.execute(doing, "INSERT INTO take (visit_id, number, analysis, settings) VALUES (?, ?, ?, ?)",
                    {id, std::int64_t{number}, content.analysis, content.settings});
    const std::span<const std::byte> sound(content.flac);
    std::int64_t part = 0;
    for (std::size_t at = 0; at < sound.size(); at += part_size) {
        server_.execute(doing, "INSERT INTO sound (visit_id, number, part, bytes) VALUES (?, ?, ?, ?)",
                        {id, std::int64_t{number}, part++, sound.subspan(at, std::min(part_size, sound.size() - at))});
    }
}

std::optional<TakeContent> PostgresStore::find_take(VisitId id, int entry) {
    const std::string doing = "read a take";
    const auto documents = server_.query(doing, "SELECT analysis, settings FROM take WHERE visit_id = ? AND number = ?",
                                         {id, std::int64_t{entry}});
    if (documents.empty()) {
        return std::nullopt;
    }
    TakeContent content{{}, documents.front().text(0), documents.front().text(1)};
    for (std::int64_t part = 0;; ++part) {
        const auto bytes = server_.blob(doing, "SELECT bytes FROM sound WHERE visit_id = ? AND number = ? AND part = ?",
                                        {id, std::int64_t{entry}, part});
        if (!bytes) {
            return content;
        }
        content.flac.insert(content.flac.end(), bytes->begin(), bytes->end());
    }
}

void PostgresStore::take_out(const Tombstone& tombstone) {
    // The server looks up by itself what the tombstone says of the visit.
    (void)server_.query("erase a visit", "SELECT retap.erase_visit(?, ?, ?, ?)::text",
                        {tombstone.id, tombstone.stamp.at, tombstone.stamp.by, tombstone.reason});
}

} // namespace retap::visit
