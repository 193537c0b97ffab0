// Checking, carrying, erasing and copying visits of the SQLite store.
#include "chart/notation.hpp"
#include "error.hpp"
#include "visit/chain.hpp"
#include "visit/sha256.hpp"
#include "visit/sqlite_store.hpp"
#include "visit/text_check.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <unistd.h>

namespace retap::visit {

namespace {

/// Faults of a take against the digests that its entry noted.
void check_take(const Entry& entry, const TakeContent& content, std::vector<std::string>& faults) {
    const auto* take = std::get_if<TakeKept>(&entry.body);
    if (take == nullptr) {
        faults.push_back("There is a sound at entry " + std::to_string(entry.number) + ", which is no take.");
        return;
    }
    const auto check = [&](const std::string& digest, const std::string& noted, const char* what) {
        if (digest != noted) {
            faults.push_back("The " + std::string(what) + " of the take in entry " + std::to_string(entry.number) +
                             " is not what was written.");
        }
    };
    check(sha256(std::span<const std::byte>(content.flac)), take->sound_sha256, "sound");
    check(sha256(content.analysis), take->analysis_sha256, "analysis");
    check(sha256(content.settings), take->settings_sha256, "settings document");
}

std::vector<std::string> faults_of(const Parcel& parcel) {
    std::vector<std::string> faults = faults_of_chain(parcel.uid, parcel.entries);
    for (const Entry& entry : parcel.entries) {
        const auto content = std::find_if(parcel.takes.begin(), parcel.takes.end(),
                                          [&](const auto& take) { return take.first == entry.number; });
        if (content != parcel.takes.end()) {
            check_take(entry, content->second, faults);
        } else if (std::holds_alternative<TakeKept>(entry.body)) {
            faults.push_back("The sound of the take in entry " + std::to_string(entry.number) + " is missing.");
        }
    }
    return faults;
}

/// Digests that fit do not make a visit that could have been written: each entry must fit those before it.
void check_as_if_written_here(const Parcel& parcel) {
    check_opening(parcel.entries.front());
    std::vector<Entry> before = {parcel.entries.front()};
    for (std::size_t i = 1; i < parcel.entries.size(); ++i) {
        check_entry(fold(0, parcel.uid, before), parcel.entries[i]);
        before.push_back(parcel.entries[i]);
    }
}

/// A file that goes away again unless it is kept.
class UnfinishedCopy {
public:
    explicit UnfinishedCopy(const std::filesystem::path& destination) {
        const auto folder = destination.parent_path().empty() ? "." : destination.parent_path();
        path_ = (folder / ("." + destination.filename().string() + ".XXXXXX")).string();
        const int descriptor = mkostemp(path_.data(), O_CLOEXEC); // 0600
        if (descriptor < 0) {
            throw StoreError("Cannot write the backup '" + destination.string() + "': " + std::strerror(errno) +
                             ". Choose another place.");
        }
        close(descriptor);
    }
    ~UnfinishedCopy() { unlink(path_.c_str()); }
    UnfinishedCopy(const UnfinishedCopy&) = delete;
    UnfinishedCopy& operator=(const UnfinishedCopy&) = delete;
    UnfinishedCopy(UnfinishedCopy&&) = delete;
    UnfinishedCopy& operator=(UnfinishedCopy&&) = delete;

    [[nodiscard]] const std::string& path() const { return path_; }
    /// Reaches the disk, then takes its name; refuses to replace what is there.
    void keep_as(const std::filesystem::path& destination) {
        const int descriptor = open(path_.c_str(), O_RDWR | O_CLOEXEC);
        const bool synced = descriptor >= 0 && fsync(descriptor) == 0;
        if (descriptor >= 0) {
            close(descriptor);
        }
        if (!synced || link(path_.c_str(), destination.c_str()) != 0) {
            throw StoreError("Cannot write the backup '" + destination.string() + "': " + std::strerror(errno) +
                             ". Choose another name or place.");
        }
    }

private:
    std::string path_;
};

} // namespace

Parcel SqliteStore::pack(VisitId id) {
    const Transaction snapshot(database_, "read a visit", Transaction::Access::snapshot);
    Parcel parcel{uid_of(id), entries_of(id), {}};
    for (const SqlRow& row :
         database_.query("read a visit", "SELECT number FROM take WHERE visit_id = ? ORDER BY number", {id})) {
        const int number = static_cast<int>(row.integer(0));
        parcel.takes.emplace_back(number, take(id, number));
    }
    return parcel;
}

std::vector<std::string> SqliteStore::verify(VisitId id) {
    const Parcel parcel = pack(id);
    std::vector<std::string> faults = faults_of(parcel);
    const Visit visit = fold(id, parcel.uid, parcel.entries);
    const auto rows = database_.query("read a visit", "SELECT label, state FROM visit WHERE id = ?", {id});
    if (rows.at(0).text(0) != visit.opened.content.label || (rows.at(0).text(1) == "signed") != visit.closed()) {
        faults.emplace_back("The line that stands for the visit in lists does not match its entries.");
    }
    return faults;
}

VisitId SqliteStore::unpack(const Parcel& parcel) {
    if (const auto faults = faults_of(parcel); !faults.empty()) {
        throw InputError("The visit cannot be taken in, because it is not what was written: " + faults.front() +
                         " Export it again from where it comes from.");
    }
    check_as_if_written_here(parcel);
    Transaction transaction(database_, "take in a visit");
    const auto here = database_.query("take in a visit", "SELECT id FROM visit WHERE uid = ?", {parcel.uid});
    if (!here.empty()) {
        throw InputError("This visit is here already, as visit " + here.front().text(0) + ".");
    }
    if (!database_.query("take in a visit", "SELECT 1 FROM erased WHERE uid = ?", {parcel.uid}).empty()) {
        throw InputError("This visit was erased here for privacy and is not taken in again.");
    }
    const VisitId id = insert_visit(parcel.uid, parcel.entries);
    for (const auto& [number, content] : parcel.takes) {
        insert_take(id, number, content);
    }
    transaction.commit();
    return id;
}

Tombstone SqliteStore::erase(VisitId id, const Stamp& stamp, const std::string& reason) {
    check_text(stamp.by, "the name of who writes");
    check_text(reason, "the reason");
    if (stamp.by.empty() || reason.empty()) {
        throw InputError("Erasing needs to say who erases (--by) and why (--reason).");
    }
    Transaction transaction(database_, "erase a visit");
    const std::string uid = uid_of(id);
    Tombstone tombstone{id, uid, stamp, reason, entries_of(id).back().digest};
    database_.execute("erase a visit",
                      "INSERT INTO erased (visit_id, uid, at, by, reason, digest) VALUES (?, ?, ?, ?, ?, ?)",
                      {id, uid, stamp.at, stamp.by, reason, tombstone.digest});
    database_.execute("erase a visit", "DELETE FROM take WHERE visit_id = ?", {id});
    database_.execute("erase a visit", "DELETE FROM entry WHERE visit_id = ?", {id});
    database_.execute("erase a visit", "DELETE FROM visit WHERE id = ?", {id});
    transaction.commit();
    // The log still has the old pages until they are written back and it is cut to nothing.
    const auto state = database_.query("erase a visit", "PRAGMA wal_checkpoint(TRUNCATE)");
    if (state.at(0).integer(0) != 0) {
        throw StoreError("Visit " + std::to_string(id) + " is erased, but traces may stay in '" +
                         database_.file().string() +
                         "-wal' until every other program that uses the store is closed. Close them.");
    }
    return tombstone;
}

std::vector<Tombstone> SqliteStore::erased() {
    std::vector<Tombstone> tombstones;
    for (const SqlRow& row :
         database_.query("list what was erased",
                         "SELECT visit_id, uid, at, by, reason, digest FROM erased ORDER BY at, visit_id")) {
        tombstones.push_back({row.integer(0), row.text(1), {row.text(2), row.text(3)}, row.text(4), row.text(5)});
    }
    return tombstones;
}

void SqliteStore::backup(const std::filesystem::path& destination) {
    if (std::filesystem::exists(destination)) {
        throw InputError("The backup '" + destination.string() + "' exists already. Choose another name.");
    }
    UnfinishedCopy copy(destination);
    database_.execute("write a backup", "VACUUM INTO ?", {copy.path()});
    copy.keep_as(destination);
}

} // namespace retap::visit
