#include "visit/soci_database.hpp"

namespace retap::visit {

namespace {

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

void SociDatabase::bind(Prepared& prepared, const std::vector<SqlValue>& values, Bound& bound) {
    bound.texts.reserve(values.size());
    bound.integers.reserve(values.size());
    for (const SqlValue& value : values) {
        if (const auto* text = std::get_if<std::string>(&value)) {
            prepared, soci::use(bound.texts.emplace_back(*text));
        } else if (const auto* integer = std::get_if<std::int64_t>(&value)) {
            prepared, soci::use(bound.integers.emplace_back(*integer));
        } else if (const auto* bytes = std::get_if<std::span<const std::byte>>(&value)) {
            bind_bytes(prepared, *bytes, bound);
        } else {
            prepared, soci::use(bound.nothing, bound.null);
        }
    }
}

void SociDatabase::execute(const std::string& doing, const std::string& sql, const std::vector<SqlValue>& values) {
    try {
        Bound bound;
        Prepared prepared = session_.prepare << spelled(sql);
        bind(prepared, values, bound);
        soci::statement statement(prepared);
        statement.execute(true);
    } catch (const soci::soci_error& cause) {
        throw fault(doing, cause);
    }
}

std::vector<SqlRow> SociDatabase::query(const std::string& doing, const std::string& sql,
                                        const std::vector<SqlValue>& values) {
    try {
        Bound bound;
        Prepared prepared = session_.prepare << spelled(sql);
        bind(prepared, values, bound);
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
        throw fault(doing, cause);
    }
}

} // namespace retap::visit
