// Taking visits out of the stores on databases.
#include "error.hpp"
#include "visit/sql_store.hpp"
#include "visit/text_check.hpp"

namespace retap::visit {

namespace {

constexpr const char* erasing = "erase a visit";

} // namespace

Tombstone SqlStore::remove(VisitId id, const Stamp& stamp, const std::string& reason) {
    hold(id);
    Tombstone tombstone{id, uid_of(id), stamp, reason, entries_of(id).back().digest};
    take_out(tombstone);
    return tombstone;
}

Tombstone SqlStore::erase(VisitId id, const Stamp& stamp, const std::string& reason) {
    check_text(stamp.by, "the name of who writes");
    check_text(reason, "the reason");
    if (is_blank(stamp.by) || is_blank(reason)) {
        throw InputError("Erasing needs to say who erases (--by) and why (--reason).");
    }
    Transaction transaction(database_, erasing);
    Tombstone tombstone = remove(id, stamp, reason);
    transaction.commit();
    try {
        after_erasing(id);
    } catch (const StoreError& fault) {
        throw StoreError("Visit " + std::to_string(id) +
                         " is erased and cannot be read any more, but traces may stay in '" + database_.name() +
                         "' and its log until it is written anew, which the next opening tries: " + fault.what());
    }
    return tombstone;
}

Tombstone SqlStore::discard(VisitId id, const Stamp& stamp) {
    Transaction transaction(database_, "discard a visit");
    const Visit visit = read_to_write(id);
    if (!visit.holds_nothing_of_its_own()) {
        throw InputError("Visit " + std::to_string(id) +
                         " holds something and is not discarded. See it with: retap visit show " + std::to_string(id) +
                         ". To take it away for good: retap visit erase " + std::to_string(id));
    }
    Tombstone tombstone = remove(id, stamp, "opened by mistake; it held nothing");
    transaction.commit();
    return tombstone;
}

std::vector<Tombstone> SqlStore::erased() {
    std::vector<Tombstone> tombstones;
    for (const SqlRow& row :
         database_.query("list what was erased",
                         "SELECT visit_id, uid, at, by, reason, digest FROM erased ORDER BY at, visit_id")) {
        tombstones.push_back({row.integer(0), row.text(1), {row.text(2), row.text(3)}, row.text(4), row.text(5)});
    }
    return tombstones;
}

} // namespace retap::visit
