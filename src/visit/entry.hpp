// What a visit is made of: entries, one after the other, never changed once written.
#pragma once

#include "chart/holds.hpp"
#include "chart/marks.hpp"
#include "chart/situation.hpp"
#include "chart/tooth.hpp"
#include "compare/comparison.hpp"
#include "visit/fields.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace retap::visit {

/// When and by whom. `at` is UTC, ISO 8601 to the second: 2031-05-14T08:32:07Z.
struct Stamp {
    std::string at;
    std::string by;
    bool operator==(const Stamp&) const = default;
};

enum class LookKind { before, after, recheck };

/// One stage of checking: before, after, after2, ..., recheck, recheck2, ...
struct LookName {
    LookKind kind = LookKind::before;
    int number = 1;
    auto operator<=>(const LookName&) const = default;
};
[[nodiscard]] std::string text(const LookName& name); ///< "after2"
[[nodiscard]] std::optional<LookName> look_from(std::string_view text);

/// The first entry of every visit. A label from the clinic's chart stands for the patient; names have no place here.
struct Opened {
    std::string label;
    std::string procedure;
    std::vector<chart::Tooth> treated;
    chart::Numbering numbering = chart::Numbering::iso;
    std::string worker;
    std::string supervisor;
    std::optional<std::string> follows; ///< uid of an earlier visit that this one continues
};

struct HoldsCharted {
    chart::HoldChart holds;
};

struct MarksCharted {
    chart::MarkChart marks;
};

/// A take that is kept. Its sound and documents lie beside the entry; their digests in it bind them to it.
struct TakeKept {
    std::string name; ///< the file it came from, without folders
    std::string program;
    std::string sound_sha256;
    std::string analysis_sha256;
    std::string settings_sha256;
};

struct FeelNoted {
    std::optional<bool> numb;
    chart::Feel feel = chart::Feel::not_asked;
    std::string words; ///< the patient's, as said
};

/// The sound of this look against the baseline, and the entries of the takes that were compared.
struct Compared {
    compare::Verdict verdict = compare::Verdict::unclear;
    compare::Likeness likeness;
    std::string sentence;
    std::vector<int> before_takes;
    std::vector<int> now_takes;
    std::string program;
    chart::FirstContact first_contact = chart::FirstContact::not_told; ///< not told as well in records from before it
    /// By how much more the first sound leads the main impact than at the baseline; nothing in records from before it.
    std::optional<double> lead_change_ms{};
};

using chart::Action;
using chart::action_from;
using chart::word;

struct Decided {
    Action action = Action::other;
    std::string words;
};

/// Takes back an earlier entry, which stays readable.
struct Withdrawn {};

/// The last entry of a closed visit. The signer is the stamp's `by`; the entry's digest covers the whole visit.
struct Signed {
    std::string role;
    std::string comment;
};

/// Which back teeth meet in crossbite; saying it again replaces it.
struct CrossbiteSaid {
    chart::Crossbite crossbite;
};

/// A warning sign. Noting the same one again replaces it, as when it was raised or decided meanwhile.
struct WarningNoted {
    chart::Warning warning;
};

using Body = std::variant<Opened, HoldsCharted, MarksCharted, TakeKept, FeelNoted, Compared, Decided, Withdrawn, Signed,
                          CrossbiteSaid, WarningNoted>;

/// "opened", "holds", "marks", "take", "feel", "comparison", "decision", "withdrawn", "signed", "crossbite", "warning".
[[nodiscard]] std::string_view kind_of(const Body& body);
[[nodiscard]] Fields fields_of(const Body& body);
/// Throws StoreError when the fields are not those of that kind.
[[nodiscard]] Body body_from(std::string_view kind, const Fields& fields);

/// An earlier entry that this one stands in for, and why.
struct Correction {
    int of = 0;
    std::string reason;
};

/// Where an entry was first written when a visit takes it over from the one it follows: that visit's uid and entry, and
/// when and by whom. The stamp of the entry itself says who took it over.
struct Inherited {
    std::string uid;
    int entry = 0;
    Stamp stamp;
    bool operator==(const Inherited&) const = default;
};

[[nodiscard]] Fields fields_of(const Inherited& inherited);
/// Throws StoreError when the fields are not those that fields_of writes.
[[nodiscard]] Inherited inherited_from(const Fields& fields);

/// An entry to be written.
struct NewEntry {
    Stamp stamp;
    std::optional<LookName> look; ///< for holds, marks, takes, feel, comparisons; optional for decisions
    std::optional<Correction> correction;
    Body body;
    std::optional<Inherited> inherited = {};
};

/// An entry that was written: numbered from 1 within its visit and chained to the ones before it (chain.hpp).
struct Entry : NewEntry {
    int number = 0;
    std::string digest;
};

} // namespace retap::visit
