#include "visit/sql_rows.hpp"

#include "chart/notation.hpp"
#include "visit/open_decision.hpp"

namespace retap::visit {

namespace {

constexpr auto stored_numbering = chart::Numbering::iso;

/// Texts around which there are spaces, so that a tooth can be looked for as one word.
std::string words_of(const std::vector<chart::Tooth>& teeth) {
    return " " + chart::write_teeth(teeth, stored_numbering) + " ";
}

std::optional<std::string> latest_sound(const Visit& visit) {
    const Look* look = visit.looks.empty() ? nullptr : &visit.looks.back();
    return look != nullptr && look->comparison
               ? std::optional(std::string(compare::word(look->comparison->content.verdict)))
               : std::nullopt;
}

} // namespace

Row entry_row(const Entry& entry) {
    using Text = std::optional<std::string>;
    return {{"number", std::to_string(entry.number)},
            {"kind", std::string(kind_of(entry.body))},
            {"look", entry.look ? Text(text(*entry.look)) : Text()},
            {"at", entry.stamp.at},
            {"by", entry.stamp.by},
            {"corrects", entry.correction ? Text(std::to_string(entry.correction->of)) : Text()},
            {"reason", entry.correction ? Text(entry.correction->reason) : Text()},
            {"body", fields_of(entry.body).text()},
            {"digest", entry.digest},
            {"inherited", entry.inherited ? Text(fields_of(*entry.inherited).text()) : Text()}};
}

Entry entry_from(const SqlRow& row) {
    Entry entry{};
    entry.number = static_cast<int>(row.integer(0));
    if (!row.is_null(2)) {
        entry.look = look_from(row.text(2));
    }
    entry.stamp = {row.text(3), row.text(4)};
    if (!row.is_null(5)) {
        entry.correction = Correction{static_cast<int>(row.integer(5)), row.is_null(6) ? "" : row.text(6)};
    }
    entry.body = body_from(row.text(1), Fields::read(row.text(7)));
    entry.digest = row.text(8);
    if (!row.is_null(9)) {
        entry.inherited = inherited_from(Fields::read(row.text(9)));
    }
    return entry;
}

Row visit_row(const Visit& visit) {
    const Opened& opened = visit.opened.content;
    const auto open = open_decision(visit);
    Row row = {{"label", opened.label},
               {"procedure", opened.procedure},
               {"teeth", words_of(opened.treated)},
               {"numbering", std::string(chart::word(opened.numbering))},
               {"worker", opened.worker},
               {"supervisor", opened.supervisor},
               {"opened_at", visit.opened.stamp.at},
               {"changed_at", visit.entries.back().stamp.at},
               {"state", visit.closed() ? "signed" : "open"},
               {"latest_look", visit.looks.empty() ? "" : text(visit.looks.back().name)},
               {"latest_sound", latest_sound(visit)},
               {"follows", opened.follows},
               {"open_action", {}},
               {"open_since", {}},
               {"open_by", {}},
               {"open_numb", {}}};
    if (open) {
        const auto set = [&row](std::string_view column, std::string value) {
            for (auto& [name, text] : row) {
                text = name == column ? std::optional(value) : text;
            }
        };
        set("open_action", std::string(word(open->decision.content.action)));
        set("open_since", open->decision.first_said().at);
        set("open_by", open->decision.first_said().by);
        if (open->numb) {
            set("open_numb", *open->numb ? "yes" : "no");
        }
    }
    return row;
}

std::string columns_of(const Row& row) {
    std::string columns;
    for (const auto& [name, value] : row) {
        columns += (columns.empty() ? "" : ", ") + name;
    }
    return columns;
}

std::string marks_of(const Row& row) {
    std::string marks;
    for (std::size_t i = 0; i < row.size(); ++i) {
        marks += i == 0 ? "?" : ", ?";
    }
    return marks;
}

std::vector<SqlValue> values_of(const Row& row) {
    std::vector<SqlValue> values;
    for (const auto& [name, value] : row) {
        values.push_back(value ? SqlValue(*value) : SqlValue());
    }
    return values;
}

std::vector<std::string> strays(const Row& written, const SqlRow& found) {
    std::vector<std::string> columns;
    for (std::size_t column = 0; column < written.size(); ++column) {
        const auto& [name, value] = written[column];
        if (found.is_null(column) ? value.has_value() : value != found.text(column)) {
            columns.push_back(name);
        }
    }
    return columns;
}

} // namespace retap::visit
