// A visit as it stands: its entries folded into looks.
#pragma once

#include "chart/changes.hpp"
#include "chart/situation.hpp"
#include "visit/entry.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace retap::visit {

using VisitId = std::int64_t; ///< short, for typing; belongs to one store

/// Something said in an entry that still stands, with the entry it comes from.
template <class Content>
struct Said {
    int entry = 0;
    Stamp stamp;
    Content content;
    std::optional<Inherited> inherited = {};

    /// When it was first said and by whom: in the earlier visit when it was taken over.
    [[nodiscard]] const Stamp& first_said() const { return inherited ? inherited->stamp : stamp; }
};

struct Look {
    LookName name;
    std::optional<Said<HoldsCharted>> holds;
    std::optional<Said<MarksCharted>> marks;
    std::vector<Said<TakeKept>> takes;
    std::optional<Said<FeelNoted>> feel;      ///< the latest
    std::optional<Said<Compared>> comparison; ///< the latest that compares the takes as they stand now
    std::vector<Said<Decided>> decisions;

    [[nodiscard]] chart::LookCharts charts() const;
    [[nodiscard]] std::vector<int> take_entries() const;
};

/// Another visit of a chain of visits that continue each other.
struct Link {
    VisitId id = 0; ///< 0 when it is not in this store
    std::string uid;
    std::string label;
    std::string opened_at;
    bool closed = false;
    bool erased = false;
};

struct Chain {
    std::vector<Link> earlier; ///< the visit that this one continues, the one that continues, and so on
    std::vector<Link> later;   ///< visits that continue this one
};

struct Visit {
    VisitId id = 0;
    std::string uid; ///< the same in every store the visit is exported to
    Said<Opened> opened;
    std::vector<Look> looks;                      ///< before, then after by number, then recheck by number
    std::vector<Said<Decided>> decisions;         ///< those that belong to no look
    std::optional<Said<CrossbiteSaid>> crossbite; ///< the latest
    std::vector<Said<WarningNoted>> warnings;     ///< the latest of each sign
    std::optional<Said<Signed>> signature;
    std::vector<Entry> entries;  ///< everything, in the order it was written
    std::vector<int> superseded; ///< entries that a correction replaced or withdrew, ascending
    Chain chain = {};            ///< as the store that it was loaded from knows it

    [[nodiscard]] bool closed() const { return signature.has_value(); }
    /// Nothing was entered besides its opening, or only what it took over from another visit.
    [[nodiscard]] bool holds_nothing_of_its_own() const;
    [[nodiscard]] const Look* look(const LookName& name) const;
    [[nodiscard]] const Look* baseline() const { return look({LookKind::before, 1}); }
    /// The latest after or recheck; nothing while only the baseline exists.
    [[nodiscard]] const Look* latest() const;
    /// Who crosses whom, as far as anybody said.
    [[nodiscard]] chart::Crossbite crossing() const;
    [[nodiscard]] chart::Numbering numbering() const { return opened.content.numbering; }
    /// The digest that covers everything so far.
    [[nodiscard]] const std::string& digest() const { return entries.back().digest; }
};

/// Entries must be whole (at least the opening; asserted).
[[nodiscard]] Visit fold(VisitId id, std::string uid, std::vector<Entry> entries);

/// Throws InputError when `entry` cannot be added to this visit: it is closed, the chart is already there, a look would
/// come out of order, a correction points at nothing, or a text is not UTF-8 or has control characters.
void check_entry(const Visit& visit, const NewEntry& entry);
/// The same for the opening of a visit.
void check_opening(const NewEntry& entry);

/// What the rules about the next step look at, for this look (after or recheck; null: only the baseline). `sound`
/// stands in when the look has no comparison of its own.
[[nodiscard]] chart::Situation situation_of(const Visit& visit, const Look* look,
                                            std::optional<chart::SoundSays> sound = {});

} // namespace retap::visit
