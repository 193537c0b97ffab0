// The visits as the page works on them: one store, used by one thread at a time.
#pragma once

#include "chairside/clock_words.hpp"
#include "chairside/take_shelf.hpp"
#include "report/json.hpp"
#include "visit/defaults.hpp"
#include "visit/store.hpp"

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace retap::chairside {

/// What a person may say about a visit besides its charts; what is absent stays as it is.
struct Details {
    std::optional<std::string> label{};
    std::optional<std::string> clinician{};
    std::optional<std::string> procedure{};
    std::optional<std::string> supervisor{};
    std::optional<chart::Numbering> numbering{};
    std::optional<std::vector<chart::Tooth>> teeth{};
};

struct PatientSays {
    std::optional<bool> numb{};
    std::optional<chart::Feel> feel{};
};

/// A sound file that shall become a take: FLAC bytes are kept as they are.
struct NewTake {
    std::string name;
    std::vector<std::byte> flac;
    std::optional<dsp::TakeAnalysis> analysis{}; ///< of exactly these bytes, where they were analysed already
};

/// Every function throws InputError for what the store refuses and StoreError when it fails. What they change appears
/// to the next call of any thread.
class VisitDesk {
public:
    using Clock = std::function<Moment()>;
    /// `changed` is told the visit after each change, from the thread that made it.
    VisitDesk(std::unique_ptr<visit::VisitStore> store, Clock clock, std::function<void(visit::VisitId)> changed);

    /// The newest visits; only those with this in their label when it is not empty.
    [[nodiscard]] report::Json visits(const std::string& label = {});
    /// What is to be signed, to be rechecked, and was begun today (worklist.hpp).
    [[nodiscard]] report::Json worklist();
    [[nodiscard]] report::Json visit(visit::VisitId id);
    /// Why the store takes nothing, as far as the last attempt told; empty when it does.
    [[nodiscard]] std::string trouble() const;
    /// The numbering of this machine, else that of the newest visit, for the next one.
    [[nodiscard]] chart::Numbering usual_numbering();

    /// A visit for these teeth, with a label made from the time until somebody gives one.
    visit::VisitId open(const std::vector<chart::Tooth>& treated, chart::Numbering numbering);
    /// A visit that continues an earlier one, with its label, teeth, baseline and open decision.
    visit::VisitId open_following(visit::VisitId earlier);
    /// Takes away a visit that was opened by mistake; InputError when it holds something.
    void discard(visit::VisitId id);
    /// What is filled in when a visit is opened on this machine.
    void set_defaults(visit::Defaults defaults);
    /// Begins the next look of this kind; it is kept once it holds something.
    void begin_look(visit::VisitId id, visit::LookKind kind);
    /// A look that was begun and holds nothing is there no longer, as when its recording was stopped and not kept.
    void forget_empty(visit::VisitId id, const visit::LookName& name);
    /// An empty text takes the chart back. Texts are in the notation of chart/notation.hpp.
    void set_holds(visit::VisitId id, const visit::LookName& look, const std::string& text);
    void set_marks(visit::VisitId id, const visit::LookName& look, const std::string& text);
    void set_details(visit::VisitId id, const Details& details);
    /// "none", "right", "left", "both", or teeth, as in chart/crossbite.hpp.
    void set_crossbite(visit::VisitId id, const std::string& text);
    /// A warning sign; what is empty keeps what was said of it earlier.
    void warn(visit::VisitId id, chart::Warning warning);
    void set_patient(visit::VisitId id, const PatientSays& says);
    /// What was decided at the look that is worked on. Deciding again adds; the newest counts.
    void decide(visit::VisitId id, visit::Action action, const std::string& words);
    /// Keeps the take and, when both sides have takes, how they compare. Returns its entry. Throws InputError for a
    /// sound that the visit has already.
    int keep_take(visit::VisitId id, const visit::LookName& look, NewTake take);
    /// Whether the visit holds this recording: the same sound, or the same take finished once more. Takes that were
    /// withdrawn count.
    [[nodiscard]] bool has_take(visit::VisitId id, const std::vector<std::byte>& flac);
    void take_back(visit::VisitId id, int entry);
    void undo(visit::VisitId id);
    void sign(visit::VisitId id, const std::string& name, const std::string& role, const std::string& comment);

    /// Throws InputError unless both sides have takes.
    [[nodiscard]] SharedComparison comparison(visit::VisitId id, const visit::LookName& name);
    [[nodiscard]] SharedAnalysis analysis(visit::VisitId id, int entry);
    /// The entry of the take that stands for this look (visit::shown_take); 0 when it has none.
    [[nodiscard]] int shown_take(visit::VisitId id, const visit::LookName& name);
    [[nodiscard]] visit::TakeContent take_content(visit::VisitId id, int entry);
    /// Runs with the store at rest.
    void with_store(const std::function<void(visit::VisitStore&)>& use);
    /// Whether takes may be added: the visit is there and not signed.
    [[nodiscard]] bool open_for_takes(visit::VisitId id);

private:
    [[nodiscard]] visit::Stamp stamp(const visit::Visit* visit) const;
    /// Opens by `make`, which is given the opening as this machine fills it in.
    visit::VisitId open_by(const std::function<visit::VisitId(const visit::Stamp&, visit::Opened)>& make);
    void write(visit::VisitId id, const std::function<void(const visit::Visit&)>& change);
    void set_chart(visit::VisitId id, const visit::LookName& name, std::optional<visit::Body> chart, bool is_holds);
    void settle_comparisons(visit::VisitId id);
    [[nodiscard]] visit::LookName last_look(const visit::Visit& visit) const;

    std::unique_ptr<visit::VisitStore> store_;
    Clock clock_;
    std::function<void(visit::VisitId)> changed_;
    TakeShelf shelf_;
    std::map<visit::VisitId, std::set<visit::LookName>> begun_;
    visit::Defaults defaults_;
    std::string trouble_;
    mutable std::mutex mutex_;
};

} // namespace retap::chairside
