// Lists and searches of the stores on databases.
#include "chart/notation.hpp"
#include "visit/sql_store.hpp"

namespace retap::visit {

namespace {

constexpr auto list_numbering = chart::Numbering::iso;

/// For LIKE ... ESCAPE '\': the text as it stands, anywhere.
std::string anywhere(const std::string& text) {
    std::string pattern = "%";
    for (const char c : text) {
        if (c == '%' || c == '_' || c == '\\') {
            pattern += '\\';
        }
        pattern += c;
    }
    return pattern + "%";
}

constexpr std::string_view followed = "EXISTS (SELECT 1 FROM visit AS later WHERE later.follows = visit.uid)";

struct Conditions {
    std::string sql;
    std::vector<SqlValue> values;

    void add(const std::string& condition, std::initializer_list<SqlValue> bound) {
        sql += (sql.empty() ? " WHERE " : " AND ") + condition;
        values.insert(values.end(), bound);
    }
};

Conditions conditions_of(const VisitFilter& filter, const Database& database) {
    Conditions conditions;
    if (!filter.text.empty()) {
        const std::string pattern = anywhere(filter.text);
        conditions.add("(" + database.like("label") + " OR " + database.like("procedure") + " OR " +
                           database.like("worker") + " OR " + database.like("supervisor") + ")",
                       {pattern, pattern, pattern, pattern});
    }
    if (!filter.label.empty()) {
        conditions.add(database.like("label"), {anywhere(filter.label)});
    }
    if (filter.waiting || !filter.waiting_until.empty()) {
        conditions.add("open_action = 'wait' AND NOT " + std::string(followed), {});
    }
    if (!filter.waiting_until.empty()) {
        conditions.add("open_since < ?", {filter.waiting_until + "~"});
    }
    if (filter.tooth) {
        conditions.add("teeth LIKE ?", {"% " + chart::name(*filter.tooth, list_numbering) + " %"});
    }
    if (filter.closed) {
        conditions.add("state = ?", {std::string(*filter.closed ? "signed" : "open")});
    }
    if (filter.latest_sound) {
        conditions.add("latest_sound = ?", {std::string(compare::word(*filter.latest_sound))});
    }
    if (!filter.since.empty()) {
        conditions.add("opened_at >= ?", {filter.since});
    }
    if (!filter.until.empty()) {
        // "2031-05" is less than every moment of May; what sorts after all of them is the text with a last character on
        // it
        conditions.add("opened_at < ?", {filter.until + "~"});
    }
    return conditions;
}

std::optional<compare::Verdict> verdict_of(const SqlRow& row, std::size_t column) {
    if (!row.is_null(column)) {
        for (const auto verdict : {compare::Verdict::alike, compare::Verdict::different, compare::Verdict::unclear}) {
            if (row.text(column) == compare::word(verdict)) {
                return verdict;
            }
        }
    }
    return std::nullopt;
}

/// Of four columns from `first` on.
std::optional<VisitSummary::Open> open_from(const SqlRow& row, std::size_t first) {
    const auto action = row.is_null(first) ? std::nullopt : action_from(row.text(first));
    if (!action) {
        return std::nullopt;
    }
    VisitSummary::Open open{*action, {row.text(first + 1), row.text(first + 2)}};
    if (!row.is_null(first + 3)) {
        open.numb = row.text(first + 3) == "yes";
    }
    return open;
}

} // namespace

std::vector<VisitSummary> SqlStore::list(const VisitFilter& filter) {
    Conditions conditions = conditions_of(filter, database_);
    std::string sql = "SELECT id, uid, label, procedure, teeth, numbering, worker, supervisor, opened_at, changed_at, "
                      "state, latest_look, latest_sound, follows, open_action, open_since, open_by, open_numb, " +
                      std::string(followed) + " FROM visit" + conditions.sql + " ORDER BY opened_at DESC, id DESC";
    if (filter.limit > 0) {
        sql += " LIMIT ?";
        conditions.values.emplace_back(std::int64_t{filter.limit});
    }
    std::vector<VisitSummary> summaries;
    for (const SqlRow& row : database_.query("list the visits", sql, conditions.values)) {
        VisitSummary summary;
        summary.id = row.integer(0);
        summary.uid = row.text(1);
        summary.label = row.text(2);
        summary.procedure = row.text(3);
        summary.treated = chart::read_teeth(row.text(4), list_numbering);
        summary.numbering = chart::numbering_from(row.text(5)).value_or(list_numbering);
        summary.worker = row.text(6);
        summary.supervisor = row.text(7);
        summary.opened_at = row.text(8);
        summary.changed_at = row.text(9);
        summary.closed = row.text(10) == "signed";
        summary.latest_look = row.text(11);
        summary.latest_sound = verdict_of(row, 12);
        if (!row.is_null(13)) {
            summary.follows = row.text(13);
        }
        summary.open = open_from(row, 14);
        summary.followed = row.integer(18) != 0;
        summaries.push_back(std::move(summary));
    }
    return summaries;
}

} // namespace retap::visit
