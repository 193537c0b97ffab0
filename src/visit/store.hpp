// Where visits are kept, as everything above sees it.
#pragma once

#include "visit/visit.hpp"

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace retap::visit {

/// A take as it is kept: its sound as a FLAC file, and two documents of the program that made the analysis. The store
/// neither reads nor changes them.
struct TakeContent {
    std::vector<std::byte> flac;
    std::string analysis;
    std::string settings;
};

/// A visit in a list.
struct VisitSummary {
    VisitId id = 0;
    std::string uid;
    std::string label;
    std::string procedure;
    std::vector<chart::Tooth> treated;
    chart::Numbering numbering = chart::Numbering::iso;
    std::string worker;
    std::string supervisor;
    std::string opened_at;
    std::string changed_at;
    bool closed = false;
    std::string latest_look;                      ///< "before", "after2", ...; empty before the first
    std::optional<compare::Verdict> latest_sound; ///< verdict of that look
    std::optional<std::string> follows = {};      ///< uid of the visit that it continues
    bool followed = false;                        ///< another visit here continues it

    /// What was decided and is still to be done (open_decision).
    struct Open {
        Action action = Action::wait;
        Stamp since; ///< when it was decided, and by whom
        std::optional<bool> numb = {};
    };
    std::optional<Open> open = {};
    /// To be seen again on another day: it was decided to wait, and no visit here continues this one.
    [[nodiscard]] bool waiting() const { return open && open->action == Action::wait && !followed; }
};

/// What to list; nothing set lists everything. All that is set must match.
struct VisitFilter {
    std::string text = {};  ///< somewhere in label, procedure, worker or supervisor, ASCII case ignored
    std::string label = {}; ///< somewhere in the label, ASCII case ignored
    std::optional<chart::Tooth> tooth = {};
    std::optional<bool> closed = {};
    std::optional<compare::Verdict> latest_sound = {};
    std::string since = {};         ///< opened at or after, as in Stamp::at or a beginning of it ("2031-05")
    std::string until = {};         ///< opened at or before, compared in the same way: "2031-05" includes all of May
    bool waiting = false;           ///< only those that VisitSummary::waiting says are
    std::string waiting_until = {}; ///< and have been at least since then, compared as in `until`
    int limit = 0;                  ///< 0: all
};

/// A visit with everything that belongs to it, for carrying to another store.
struct Parcel {
    std::string uid;
    std::vector<Entry> entries;
    std::vector<std::pair<int, TakeContent>> takes; ///< by entry number
};

/// What is left of an erased visit: that there was one, and its last digest.
struct Tombstone {
    VisitId id = 0;
    std::string uid;
    Stamp stamp;
    std::string reason;
    std::string digest;
};

/// All writes happen wholly or not at all, also when the program or the machine stops in the middle, and several
/// programs may work on one store at once. Every function throws StoreError when the store cannot be read or written,
/// and InputError when there is no such visit or the request cannot be met.
class VisitStore {
public:
    VisitStore() = default;
    virtual ~VisitStore() = default;
    VisitStore(const VisitStore&) = delete;
    VisitStore& operator=(const VisitStore&) = delete;
    VisitStore(VisitStore&&) = delete;
    VisitStore& operator=(VisitStore&&) = delete;

    virtual VisitId open_visit(const Stamp& stamp, const Opened& opened) = 0;
    /// A visit that continues an earlier one: `opened.follows` is filled in here. When the same teeth are treated it
    /// takes over what taken_over says, sounds included.
    virtual VisitId open_following(VisitId earlier, const Stamp& stamp, Opened opened) = 0;
    /// Adds an entry that check_entry accepts; returns its number.
    virtual int add(VisitId id, const NewEntry& entry) = 0;
    /// Adds a take; the digests in its entry are filled in here.
    virtual int add_take(VisitId id, const LookName& look, const Stamp& stamp, TakeKept take,
                         const TakeContent& content) = 0;

    /// Newest first.
    [[nodiscard]] virtual std::vector<VisitSummary> list(const VisitFilter& filter) = 0;
    [[nodiscard]] virtual Visit load(VisitId id) = 0;
    [[nodiscard]] virtual TakeContent take(VisitId id, int entry) = 0;
    /// Faults as sentences: entries or takes that are not what was written. None when the visit is whole.
    [[nodiscard]] virtual std::vector<std::string> verify(VisitId id) = 0;

    [[nodiscard]] virtual Parcel pack(VisitId id) = 0;
    /// Refuses a parcel that is not whole, and a visit that is here already.
    virtual VisitId unpack(const Parcel& parcel) = 0;

    /// Overwrites everything the visit holds and leaves a tombstone. Cannot be undone; backups and exports keep theirs.
    virtual Tombstone erase(VisitId id, const Stamp& stamp, const std::string& reason) = 0;
    /// Takes away a visit that was opened by mistake; only one that holds nothing of its own. That there was one stays.
    virtual Tombstone discard(VisitId id, const Stamp& stamp) = 0;
    [[nodiscard]] virtual std::vector<Tombstone> erased() = 0;

    /// A whole copy as it is at one moment, while others may go on writing. Refuses a destination that exists.
    virtual void backup(const std::filesystem::path& destination) = 0;
};

} // namespace retap::visit
