// Visits of the stores on databases that continue each other.
#include "error.hpp"
#include "visit/inherit.hpp"
#include "visit/sql_store.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

bool same_teeth(std::vector<chart::Tooth> a, std::vector<chart::Tooth> b) {
    std::sort(a.begin(), a.end());
    std::sort(b.begin(), b.end());
    return a == b;
}

} // namespace

VisitId SqlStore::open_following(VisitId earlier, const Stamp& stamp, Opened opened) {
    Transaction transaction(database_, "open a visit");
    const Visit before = read_visit(earlier);
    opened.follows = before.uid;
    const VisitId id = insert_opening(stamp, opened);
    if (same_teeth(opened.treated, before.opened.content.treated)) {
        for (const TakenOver& taken : taken_over(before, stamp)) {
            const int number = append(read_to_write(id), taken.entry);
            if (std::holds_alternative<TakeKept>(taken.entry.body)) {
                insert_take(id, number, take_there(earlier, taken.from));
            }
        }
    }
    transaction.commit();
    return id;
}

Link SqlStore::link_of(const std::string& uid) {
    Link link{.id = 0, .uid = uid, .label = {}, .opened_at = {}};
    const auto rows =
        database_.query("read a visit", "SELECT id, label, opened_at, state FROM visit WHERE uid = ?", {uid});
    if (rows.empty()) {
        link.erased = !database_.query("read a visit", "SELECT 1 FROM erased WHERE uid = ?", {uid}).empty();
        return link;
    }
    const SqlRow& row = rows.front();
    return {row.integer(0), uid, row.text(1), row.text(2), row.text(3) == "signed"};
}

Chain SqlStore::chain_of(const Visit& visit) {
    constexpr std::size_t longest = 100; // more days than any tooth takes; an altered file may run in a circle
    Chain chain;
    std::optional<std::string> uid = visit.opened.content.follows;
    while (uid && chain.earlier.size() < longest) {
        chain.earlier.push_back(link_of(*uid));
        const auto rows = database_.query("read a visit", "SELECT follows FROM visit WHERE uid = ?", {*uid});
        uid = rows.empty() || rows.front().is_null(0) ? std::nullopt : std::optional(rows.front().text(0));
    }
    for (const SqlRow& row :
         database_.query("read a visit", "SELECT uid FROM visit WHERE follows = ? ORDER BY id", {visit.uid})) {
        chain.later.push_back(link_of(row.text(0)));
    }
    return chain;
}

} // namespace retap::visit
