#include "visit/postgres_database.hpp"

#include "visit/postgres_address.hpp"

#include <array>
#include <cstdlib>
#include <string_view>

namespace retap::visit {

namespace {

struct Advice {
    std::string_view state; ///< the beginning of an SQLSTATE, from PostgreSQL's table of error codes
    std::string_view what_to_try;
};

/// The first that fits.
constexpr std::array<Advice, 9> advices = {{
    {"42501", "Your login may not do this. Who looks after the store gives rights with: retap school person."},
    {"42P01", "The store there is not set up; its owner does that with: retap school init."},
    {"23505", "It is there already; somebody else was faster. Look at it again."},
    {"53100", "The server's disk is full; nothing was changed. Tell who looks after it."},
    {"53", "The server is at its limits; try again later."},
    {"55P03", "Somebody else is writing and did not finish in time; try again."},
    {"57P", "The server is stopping or starting; try again."},
    {"40", "Somebody else wrote at the same moment; try again."},
    {"25006", "This server can only be read from."},
}};

std::string_view advice_for_state(const std::string& state) {
    for (const Advice& advice : advices) {
        if (state.starts_with(advice.state)) {
            return advice.what_to_try;
        }
    }
    return "Nothing was changed.";
}

/// The server's own words on one line, without the statement that the library puts behind them.
std::string words_of_server(const std::exception& cause) {
    const auto* known = dynamic_cast<const soci::soci_error*>(&cause);
    std::string why = known == nullptr ? cause.what() : known->get_error_message();
    for (const std::string_view before : {"Cannot establish connection to the database.", "Cannot prepare statement.",
                                          "Cannot execute query.", "ERROR:", "FATAL:"}) {
        while (why.starts_with(' ') || why.starts_with('\n')) {
            why.erase(0, 1);
        }
        if (why.starts_with(before)) {
            why.erase(0, before.size());
        }
    }
    std::string line;
    for (const char c : why) {
        const bool blank = c == '\n' || c == '\t' || c == ' ';
        if (!blank || (!line.empty() && line.back() != ' ')) {
            line += blank ? ' ' : c;
        }
    }
    while (line.ends_with('.') || line.ends_with(' ')) {
        line.pop_back();
    }
    return line;
}

int hex_value(char digit) {
    return digit <= '9' ? digit - '0' : digit - 'a' + 10;
}

} // namespace

PostgresDatabase::PostgresDatabase(const std::string& address) {
    const PostgresAddress parsed(address);
    address_ = parsed.for_connecting();
    name_ = parsed.shown();
    // What the address and the service leave open; the environment comes after both, and what stands there stays.
    if (!parsed.on_this_computer()) {
        setenv("PGSSLMODE", "verify-full", 0);
    }
    setenv("PGCONNECT_TIMEOUT", "10", 0);
    connect();
}

void PostgresDatabase::connect() {
    const std::string doing = "open the visit store";
    try {
        session().close();
        session().open(soci::postgresql, address_);
    } catch (const soci::soci_error& cause) {
        // Words are in the server's language; whether it answers at all tells what to try.
        const bool answers = PQping(address_.c_str()) == PQPING_OK;
        throw StoreError("Cannot " + doing + " at " + name_ + ": " + words_of_server(cause) + ". " +
                         (answers ? "The server is there but lets nobody in like this: check login, password "
                                    "(~/.pgpass), database and certificate."
                                  : "No server answers there: check the address and the network, and whether it runs. "
                                    "Visits in a file on this computer go on without it."));
    }
    for (const char* setting :
         {"SET client_min_messages = warning", "SET client_encoding = 'UTF8'", "SET search_path = retap, pg_temp",
          "SET standard_conforming_strings = on", "SET lock_timeout = '10s'", "SET bytea_output = 'hex'",
          "SET synchronous_commit = on", "SET idle_in_transaction_session_timeout = '60s'"}) {
        SociDatabase::execute(doing, setting);
    }
}

bool PostgresDatabase::lost() const {
    const auto* backend = static_cast<const soci::postgresql_session_backend*>(
        const_cast<soci::session&>(session()).get_backend()); // SOCI has no const way to it
    return backend == nullptr || PQstatus(backend->conn_) != CONNECTION_OK;
}

template <class Action>
auto PostgresDatabase::again_if_lost(Action action) {
    if (in_transaction_) {
        return action();
    }
    if (lost()) {
        connect();
    }
    try {
        return action();
    } catch (const StoreError&) {
        if (!lost()) {
            throw;
        }
    }
    connect();
    return action();
}

void PostgresDatabase::execute(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values) {
    SociDatabase::execute(doing, sql, values);
}

std::vector<SqlRow> PostgresDatabase::query(const std::string& doing, const std::string& sql,
                                            const std::vector<SqlValue>& values) {
    return again_if_lost([&] { return SociDatabase::query(doing, sql, values); });
}

std::optional<std::vector<std::byte>> PostgresDatabase::blob(const std::string& doing, const std::string& sql,
                                                             const std::vector<SqlValue>& values) {
    const auto rows = query(doing, sql, values);
    if (rows.empty() || rows.front().is_null(0)) {
        return std::nullopt;
    }
    const std::string& hex = rows.front().text(0); // \x0a1b...
    std::vector<std::byte> bytes;
    bytes.reserve(hex.size() / 2);
    for (std::size_t i = 2; i + 1 < hex.size(); i += 2) {
        bytes.push_back(static_cast<std::byte>(16 * hex_value(hex[i]) + hex_value(hex[i + 1])));
    }
    return bytes;
}

void PostgresDatabase::bind_bytes(Prepared& prepared, std::span<const std::byte> bytes, Bound& bound) {
    std::string hex = "\\x";
    hex.reserve(2 + 2 * bytes.size());
    for (const std::byte byte : bytes) {
        constexpr std::string_view digits = "0123456789abcdef";
        hex += digits[std::to_integer<std::size_t>(byte >> 4U)];
        hex += digits[std::to_integer<std::size_t>(byte & std::byte{15})];
    }
    prepared, soci::use(bound.texts.emplace_back(std::move(hex)));
}

std::string PostgresDatabase::spelled(const std::string& sql) const {
    std::string numbered; // named, since SOCI asks for the names when a statement fails
    int number = 0;
    for (const char c : sql) {
        numbered += c == '?' ? ":v" + std::to_string(++number) : std::string(1, c);
    }
    return numbered;
}

void PostgresDatabase::begin(const std::string& doing, bool write) {
    again_if_lost([&] { execute(doing, write ? "BEGIN" : "BEGIN ISOLATION LEVEL REPEATABLE READ, READ ONLY"); });
    in_transaction_ = true;
}

void PostgresDatabase::commit(const std::string& doing) {
    execute(doing, "COMMIT");
    in_transaction_ = false;
}

void PostgresDatabase::roll_back(const std::string& doing) {
    in_transaction_ = false; // also when the connection is lost and with it the transaction
    execute(doing, "ROLLBACK");
}

StoreError PostgresDatabase::fault(const std::string& doing, const std::exception& cause) const {
    const auto* known = dynamic_cast<const soci::postgresql_soci_error*>(&cause);
    const bool gone = lost();
    return StoreError("Cannot " + doing + " in " + name_ + ": " + words_of_server(cause) + ". " +
                      std::string(gone ? "The connection was cut; try again. What was not acknowledged may still have "
                                         "been written, so look first."
                                       : advice_for_state(known == nullptr ? "" : known->sqlstate())));
}

} // namespace retap::visit
