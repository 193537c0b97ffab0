#include "visit/sqlite_database.hpp"

#include "error.hpp"

#include <array>
#include <chrono>
#include <stdexcept>
#include <string_view>
#include <thread>

namespace retap::visit {

namespace {

constexpr int longest_wait_s = 10;

/// The primary result code; the rest details it.
int primary(int result) {
    return result & 0xFF;
}

std::string advice_for(int result) {
    switch (primary(result)) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return "Another program is writing to it and did not finish in time; try again.";
    case SQLITE_FULL:
        return "The disk is full; make room and try again.";
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
        return "Check that you may write to the file and its folder.";
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        return "The file is damaged or not a visit store; keep it aside and go back to a backup.";
    case SQLITE_IOERR:
        return "The disk reports an error; check it before going on.";
    default:
        return "Nothing was changed.";
    }
}

/// The database's own words, without the names of functions and the statement that its library puts around them.
std::string plain_cause(const std::exception& cause) {
    const auto* known = dynamic_cast<const soci::soci_error*>(&cause);
    std::string why = known == nullptr ? cause.what() : known->get_error_message();
    for (const std::string_view before : {"sqlite3_", "Cannot establish connection"}) {
        if (why.starts_with(before)) {
            const std::size_t end = why.find(before == "sqlite3_" ? ": " : ". ");
            why.erase(0, end == std::string::npos ? 0 : end + 2);
        }
    }
    while (why.ends_with('.')) {
        why.pop_back(); // the library's own full stop
    }
    return why;
}

/// The address of a file that SQLite shall take for one that nobody changes: without that, a store with a write-ahead
/// log needs to write even to be read. What is still in such a log would be passed over, so with one it is not told so.
std::string unchanging(const std::filesystem::path& file) {
    std::string address = "file:";
    for (const char c : std::filesystem::absolute(file).lexically_normal().string()) {
        constexpr std::string_view special = "%?#";
        const std::size_t which = special.find(c);
        address += which == std::string_view::npos ? std::string(1, c) : std::array{"%25", "%3f", "%23"}.at(which);
    }
    std::error_code none;
    const std::uintmax_t log_size = std::filesystem::file_size(file.string() + "-wal", none);
    return address + (none || log_size == 0 ? "?immutable=1" : "");
}

} // namespace

SqliteDatabase::SqliteDatabase(const std::filesystem::path& file, Access access) : file_(file), access_(access) {
    const std::string doing = "open the visit store";
    try {
        // SOCI takes quoted values; a quote inside cannot be written
        if (file.string().find('"') != std::string::npos) {
            throw std::invalid_argument("its path has a quotation mark in it");
        }
        const std::string place = access == Access::write ? file.string() : unchanging(file);
        session().open(soci::sqlite3, "db=\"" + place + "\" timeout=" + std::to_string(longest_wait_s) +
                                          (access == Access::write ? "" : " readonly=1"));
    } catch (const std::exception& cause) {
        throw fault(doing, cause);
    }
    if (access == Access::read) {
        return;
    }
    for (const char* pragma : {"PRAGMA synchronous = FULL", "PRAGMA foreign_keys = ON", "PRAGMA secure_delete = ON"}) {
        (void)query(doing, pragma);
    }
    use_write_ahead_log(doing);
}

void SqliteDatabase::use_write_ahead_log(const std::string& doing) {
    // Changing over needs the file for a moment, and SQLite does not wait for that as it does for a write.
    constexpr int tries = 200;
    for (int attempt = 1;; ++attempt) {
        try {
            if (query(doing, "PRAGMA journal_mode").at(0).text(0) == "wal" ||
                query(doing, "PRAGMA journal_mode = WAL").at(0).text(0) == "wal") {
                return;
            }
        } catch (const StoreError&) {
            if (attempt == tries) {
                throw;
            }
        }
        if (attempt == tries) {
            throw StoreError("Cannot " + doing + " '" + file_.string() +
                             "': the folder does not allow a write-ahead log. Keep the store on a local disk.");
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
}

StoreError SqliteDatabase::fault(const std::string& doing, const std::exception& cause) const {
    const auto* known = dynamic_cast<const soci::sqlite3_soci_error*>(&cause);
    const int result = known == nullptr ? 0 : known->result();
    const bool busy = primary(result) == SQLITE_BUSY || primary(result) == SQLITE_LOCKED;
    // Who only has to wait is not helped by the database's words.
    return StoreError("Cannot " + doing + " in '" + file_.string() + "'" +
                      (busy ? std::string() : ": " + plain_cause(cause)) + ". " + advice_for(result));
}

bool SqliteDatabase::execute_at_once(const std::string& doing, const std::string& sql,
                                     const std::vector<SqlValue>& values) {
    bool done = true;
    (void)query(doing, "PRAGMA busy_timeout = 0");
    try {
        execute(doing, sql, values);
    } catch (const StoreError&) {
        done = false;
    }
    (void)query(doing, "PRAGMA busy_timeout = " + std::to_string(1000 * longest_wait_s));
    return done;
}

std::optional<std::vector<std::byte>> SqliteDatabase::blob(const std::string& doing, const std::string& sql,
                                                           const std::vector<SqlValue>& values) {
    try {
        Bound bound;
        soci::blob found(session());
        soci::indicator state = soci::i_null;
        Prepared prepared = session().prepare << spelled(sql);
        bind(prepared, values, bound);
        prepared, soci::into(found, state);
        soci::statement statement(prepared);
        if (!statement.execute(true) || state == soci::i_null) {
            return std::nullopt;
        }
        std::vector<std::byte> bytes(found.get_len());
        if (!bytes.empty()) {
            found.read(0, reinterpret_cast<char*>(bytes.data()), bytes.size()); // SQLite counts from 0
        }
        return bytes;
    } catch (const soci::soci_error& cause) {
        throw fault(doing, cause);
    }
}

void SqliteDatabase::bind_bytes(Prepared& prepared, std::span<const std::byte> bytes, Bound& bound) {
    auto& blob = bound.blobs.emplace_back(std::make_unique<soci::blob>(session()));
    blob->append(reinterpret_cast<const char*>(bytes.data()), bytes.size());
    prepared, soci::use(*blob);
}

void SqliteDatabase::begin(const std::string& doing, bool write) {
    execute(doing, write ? "BEGIN IMMEDIATE" : "BEGIN"); // the first takes the write lock at once
}

} // namespace retap::visit
