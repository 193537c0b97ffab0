#include "visit/database.hpp"

#include "error.hpp"

#include <array>
#include <charconv>
#include <chrono>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
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

/// Values must stay where they are while a statement uses them, so they are copied here first.
struct Bound {
    std::vector<std::string> texts;
    std::vector<long long> integers;
    std::vector<std::unique_ptr<soci::blob>> blobs;
    soci::indicator null = soci::i_null;
    std::string nothing;
};

template <class Prepared>
void bind(soci::session& session, Prepared& prepared, const std::vector<SqlValue>& values, Bound& bound) {
    bound.texts.reserve(values.size());
    bound.integers.reserve(values.size());
    for (const SqlValue& value : values) {
        if (const auto* text = std::get_if<std::string>(&value)) {
            prepared, soci::use(bound.texts.emplace_back(*text));
        } else if (const auto* integer = std::get_if<std::int64_t>(&value)) {
            prepared, soci::use(bound.integers.emplace_back(*integer));
        } else if (const auto* bytes = std::get_if<std::span<const std::byte>>(&value)) {
            auto& blob = bound.blobs.emplace_back(std::make_unique<soci::blob>(session));
            blob->append(reinterpret_cast<const char*>(bytes->data()), bytes->size());
            prepared, soci::use(*blob);
        } else {
            prepared, soci::use(bound.nothing, bound.null);
        }
    }
}

std::optional<std::string> value_of(const soci::row& row, std::size_t column) {
    if (row.get_indicator(column) == soci::i_null) {
        return std::nullopt;
    }
    switch (row.get_properties(column).get_data_type()) {
    case soci::dt_integer:
        return std::to_string(row.get<int>(column));
    case soci::dt_long_long:
        return std::to_string(row.get<long long>(column));
    default:
        return row.get<std::string>(column);
    }
}

} // namespace

const std::string& SqlRow::text(std::size_t column) const {
    const auto& value = columns_.at(column);
    if (!value) {
        throw StoreError("The visit store holds a record that cannot be read: a value is missing.");
    }
    return *value;
}

std::int64_t SqlRow::integer(std::size_t column) const {
    const std::string& value = text(column);
    std::int64_t number = 0;
    const auto [end, error] = std::from_chars(value.data(), value.data() + value.size(), number);
    if (error != std::errc() || end != value.data() + value.size()) {
        throw StoreError("The visit store holds a record that cannot be read: '" + value + "' is no number.");
    }
    return number;
}

struct Database::Session {
    soci::session sql;
};

Database::Database(const std::filesystem::path& file, Access access)
    : file_(file), access_(access), session_(std::make_unique<Session>()) {
    const std::string doing = "open the visit store";
    try {
        // SOCI takes quoted values; a quote inside cannot be written
        if (file.string().find('"') != std::string::npos) {
            throw std::invalid_argument("its path has a quotation mark in it");
        }
        const std::string place = access == Access::write ? file.string() : unchanging(file);
        session_->sql.open(soci::sqlite3, "db=\"" + place + "\" timeout=" + std::to_string(longest_wait_s) +
                                              (access == Access::write ? "" : " readonly=1"));
    } catch (const std::exception& cause) {
        fail(doing, cause);
    }
    if (access == Access::read) {
        return;
    }
    for (const char* pragma : {"PRAGMA synchronous = FULL", "PRAGMA foreign_keys = ON", "PRAGMA secure_delete = ON"}) {
        (void)query(doing, pragma);
    }
    use_write_ahead_log(doing);
}

void Database::use_write_ahead_log(const std::string& doing) {
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

Database::~Database() = default;

void Database::fail(const std::string& doing, const std::exception& cause) const {
    const auto* known = dynamic_cast<const soci::sqlite3_soci_error*>(&cause);
    const int result = known == nullptr ? 0 : known->result();
    const bool busy = primary(result) == SQLITE_BUSY || primary(result) == SQLITE_LOCKED;
    // Who only has to wait is not helped by the database's words.
    throw StoreError("Cannot " + doing + " in '" + file_.string() + "'" +
                     (busy ? std::string() : ": " + plain_cause(cause)) + ". " + advice_for(result));
}

void Database::execute(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values) {
    try {
        Bound bound;
        auto prepared = session_->sql.prepare << sql;
        bind(session_->sql, prepared, values, bound);
        soci::statement statement(prepared);
        statement.execute(true);
    } catch (const soci::soci_error& cause) {
        fail(doing, cause);
    }
}

bool Database::execute_at_once(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values) {
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

std::vector<SqlRow> Database::query(const std::string& doing, const std::string& sql,
                                    const std::vector<SqlValue>& values) {
    try {
        Bound bound;
        auto prepared = session_->sql.prepare << sql;
        bind(session_->sql, prepared, values, bound);
        const soci::rowset<soci::row> found = prepared;
        std::vector<SqlRow> rows;
        for (const soci::row& row : found) {
            SqlRow& copy = rows.emplace_back();
            for (std::size_t column = 0; column < row.size(); ++column) {
                copy.push(value_of(row, column));
            }
        }
        return rows;
    } catch (const soci::soci_error& cause) {
        fail(doing, cause);
    }
}

std::optional<std::vector<std::byte>> Database::blob(const std::string& doing, const std::string& sql,
                                                     const std::vector<SqlValue>& values) {
    try {
        Bound bound;
        soci::blob found(session_->sql);
        soci::indicator state = soci::i_null;
        auto prepared = session_->sql.prepare << sql;
        bind(session_->sql, prepared, values, bound);
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
        fail(doing, cause);
    }
}

void Database::script(const std::string& doing, const std::vector<std::string>& statements) {
    for (const std::string& statement : statements) {
        execute(doing, statement);
    }
}

Transaction::Transaction(Database& database, std::string doing, Access access)
    : database_(database), doing_(std::move(doing)) {
    database_.execute(doing_, access == Access::write ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
    if (open_) {
        try {
            database_.execute(doing_, "ROLLBACK");
        } catch (const StoreError&) {
            // SQLite has rolled back by itself; the fault that led here is the one to report
        }
    }
}

void Transaction::commit() {
    database_.execute(doing_, "COMMIT");
    open_ = false;
}

} // namespace retap::visit
