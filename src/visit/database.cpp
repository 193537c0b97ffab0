#include "visit/database.hpp"

#include "error.hpp"

#include <charconv>

namespace retap::visit {

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

void Database::script(const std::string& doing, const std::vector<std::string>& statements) {
    for (const std::string& statement : statements) {
        execute(doing, statement);
    }
}

void Database::commit(const std::string& doing) {
    execute(doing, "COMMIT");
}

void Database::roll_back(const std::string& doing) {
    execute(doing, "ROLLBACK");
}

Transaction::Transaction(Database& database, std::string doing, Access access)
    : database_(database), doing_(std::move(doing)) {
    database_.begin(doing_, access == Access::write);
}

Transaction::~Transaction() {
    if (open_) {
        try {
            database_.roll_back(doing_);
        } catch (const StoreError&) {
            // it has rolled back by itself; the fault that led here is the one to report
        }
    }
}

void Transaction::commit() {
    database_.commit(doing_);
    open_ = false;
}

} // namespace retap::visit
