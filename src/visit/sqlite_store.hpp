// The store in one SQLite file.
#pragma once

#include "visit/database.hpp"
#include "visit/store.hpp"

#include <filesystem>
#include <functional>

namespace retap::visit {

/// One file, readable by its owner alone, with the write-ahead log beside it while it is open. Not for use from several
/// threads at once; each opens its own. Keep it on a local disk: locks of network file systems are not to be relied on.
/// Where nothing can be written, as on a disk that is read-only, visits are read all the same, and every write is a
/// StoreError that says so.
class SqliteStore : public VisitStore {
public:
    /// Opens, creates or brings up to date. Throws StoreError.
    explicit SqliteStore(const std::filesystem::path& file);

    VisitId open_visit(const Stamp& stamp, const Opened& opened) override;
    VisitId open_following(VisitId earlier, const Stamp& stamp, Opened opened) override;
    int add(VisitId id, const NewEntry& entry) override;
    int add_take(VisitId id, const LookName& look, const Stamp& stamp, TakeKept take,
                 const TakeContent& content) override;
    std::vector<VisitSummary> list(const VisitFilter& filter) override;
    Visit load(VisitId id) override;
    TakeContent take(VisitId id, int entry) override;
    std::vector<std::string> verify(VisitId id) override;
    Parcel pack(VisitId id) override;
    VisitId unpack(const Parcel& parcel) override;
    Tombstone erase(VisitId id, const Stamp& stamp, const std::string& reason) override;
    Tombstone discard(VisitId id, const Stamp& stamp) override;
    std::vector<Tombstone> erased() override;
    void backup(const std::filesystem::path& destination) override;

private:
    [[nodiscard]] std::string uid_of(VisitId id);
    [[nodiscard]] std::vector<Entry> entries_of(VisitId id);
    /// Without a transaction of their own.
    [[nodiscard]] Visit read_visit(VisitId id);
    [[nodiscard]] Chain chain_of(const Visit& visit);
    [[nodiscard]] Link link_of(const std::string& uid);
    [[nodiscard]] Parcel packed(VisitId id);
    /// Faults of what stands beside what the entries say: texts, looks and lines that reading passes over.
    [[nodiscard]] std::vector<std::string> strays_in_entries(VisitId id, const std::vector<Entry>& entries);
    int append(const Visit& visit, const NewEntry& entry);
    void insert_entry(VisitId id, const Entry& entry);
    void insert_take(VisitId id, int number, const TakeContent& content);
    VisitId insert_opening(const Stamp& stamp, const Opened& opened);
    VisitId insert_visit(const std::string& uid, const std::vector<Entry>& entries);
    void refresh_summary(const Visit& visit);
    void refresh_all_summaries();
    Tombstone remove(VisitId id, const Stamp& stamp, const std::string& reason);
    /// Writes the file anew without anything that is no longer in it, and empties the log. Throws StoreError when
    /// another program keeps it from that; the next opening for writing tries again.
    void rebuild();
    void finish_what_was_begun();

    Database database_;
};

} // namespace retap::visit
