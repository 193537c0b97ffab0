// What the stores on databases have in common, which is nearly everything. For sqlite_store and postgres_store only.
#pragma once

#include "visit/carry_end.hpp"
#include "visit/database.hpp"
#include "visit/store.hpp"

#include <functional>
#include <memory>
#include <optional>

namespace retap::visit {

/// Not for use from several threads at once; each opens its own.
class SqlStore : public VisitStore, public CarryEnd {
public:
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

    std::vector<Head> heads() override;
    std::optional<Head> head(const std::string& uid) override;
    bool was_erased(const std::string& uid) override;
    std::vector<Entry> entries_of_visit(VisitId id) override;
    TakeContent content_of_take(VisitId id, int entry) override;
    int take_in(const std::string& uid, const std::vector<Entry>& entries,
                const std::function<TakeContent(int entry)>& content) override;
    bool answers() override;

protected:
    explicit SqlStore(std::shared_ptr<Database> database) : owned_(std::move(database)), database_(*owned_) {}

    /// Until the transaction ends nobody else writes to the visit. SQLite's write lock is on everything by itself.
    virtual void hold(VisitId id) { (void)id; }
    virtual void insert_take(VisitId id, int number, const TakeContent& content) = 0;
    /// Of an entry that is there, without a transaction of its own; nothing when it has no sound.
    [[nodiscard]] virtual std::optional<TakeContent> find_take(VisitId id, int entry) = 0;
    /// Inside a transaction: leaves the tombstone and takes out everything else.
    virtual void take_out(const Tombstone& tombstone) = 0;
    /// After the visit is gone for every reader: what is still to be done about traces. Throws StoreError.
    virtual void after_erasing(VisitId id) { (void)id; }

    void refresh_all_summaries();

private:
    [[nodiscard]] std::string uid_of(VisitId id);
    [[nodiscard]] std::vector<Entry> entries_of(VisitId id);
    /// Without a transaction of their own.
    [[nodiscard]] Visit read_visit(VisitId id);
    [[nodiscard]] Visit read_to_write(VisitId id);
    [[nodiscard]] Chain chain_of(const Visit& visit);
    [[nodiscard]] Link link_of(const std::string& uid);
    [[nodiscard]] Parcel packed(VisitId id);
    /// Faults of what stands beside what the entries say: texts, looks and lines that reading passes over.
    [[nodiscard]] std::vector<std::string> strays_in_entries(VisitId id, const std::vector<Entry>& entries);
    int append(const Visit& visit, const NewEntry& entry);
    void insert_entry(VisitId id, const Entry& entry);
    VisitId insert_opening(const Stamp& stamp, const Opened& opened);
    VisitId insert_visit(const std::string& uid, const std::vector<Entry>& entries);
    void refresh_summary(const Visit& visit);
    Tombstone remove(VisitId id, const Stamp& stamp, const std::string& reason);
    [[nodiscard]] TakeContent take_there(VisitId id, int entry);

    std::shared_ptr<Database> owned_; ///< shared with the store that is built on this one
    Database& database_;
};

} // namespace retap::visit
