#include "chairside/visit_desk.hpp"

#include "chairside/page_json.hpp"
#include "chairside/undo.hpp"
#include "chairside/worklist.hpp"
#include "chart/notation.hpp"
#include "error.hpp"
#include "visit/inherit.hpp"

#include <algorithm>

namespace retap::chairside {

using report::Json;
using visit::Visit;
using visit::VisitId;

namespace {

constexpr std::string_view unnamed = "chairside page"; // who writes while nobody has said who works

} // namespace

VisitDesk::VisitDesk(std::unique_ptr<visit::VisitStore> store, Clock clock, std::function<void(VisitId)> changed)
    : store_(std::move(store)), clock_(std::move(clock)), changed_(std::move(changed)), shelf_(*store_) {}

visit::Stamp VisitDesk::stamp(const Visit* visit) const {
    const std::string worker = visit == nullptr ? std::string() : visit->opened.content.worker;
    return {utc_text(clock_()), worker.empty() ? std::string(unnamed) : worker};
}

Json VisitDesk::visits(const std::string& label) {
    const std::lock_guard lock(mutex_);
    return visits_json(*store_, label, clock_());
}

Json VisitDesk::worklist() {
    const std::lock_guard lock(mutex_);
    return worklist_json(*store_, clock_());
}

Json VisitDesk::visit(VisitId id) {
    const std::lock_guard lock(mutex_);
    const Visit visit = store_->load(id);
    const auto analysis = [&](int entry, const std::string& name) { return shelf_.analysis(id, entry, name); };
    return visit_json(visit, {.now = clock_(),
                              .begun = begun_[id],
                              .analysis = analysis,
                              .intact = !visit.closed() || store_->verify(id).empty()});
}

std::string VisitDesk::trouble() const {
    const std::lock_guard lock(mutex_);
    return trouble_;
}

chart::Numbering VisitDesk::usual_numbering() {
    const std::lock_guard lock(mutex_);
    if (defaults_.numbering) {
        return *defaults_.numbering;
    }
    const auto newest = store_->list({.limit = 1});
    return newest.empty() ? chart::Numbering::iso : newest.front().numbering;
}

void VisitDesk::write(VisitId id, const std::function<void(const Visit&)>& change) {
    {
        const std::lock_guard lock(mutex_);
        try {
            change(store_->load(id));
            trouble_.clear();
        } catch (const StoreError& error) {
            trouble_ = error.what();
            throw;
        }
    }
    changed_(id);
}

VisitId VisitDesk::open_by(const std::function<VisitId(const visit::Stamp&, visit::Opened)>& make) {
    VisitId id = 0;
    {
        const std::lock_guard lock(mutex_);
        visit::Opened opened;
        opened.worker = defaults_.worker;
        opened.supervisor = defaults_.supervisor;
        const std::string now = utc_text(clock_());
        opened.label = "Visit at " + day_and_time(now, clock_()).time;
        try {
            id = make({now, opened.worker.empty() ? std::string(unnamed) : opened.worker}, opened);
            trouble_.clear();
        } catch (const StoreError& error) {
            trouble_ = error.what();
            throw;
        }
    }
    changed_(id);
    return id;
}

VisitId VisitDesk::open(const std::vector<chart::Tooth>& treated, chart::Numbering numbering) {
    return open_by([&](const visit::Stamp& stamp, visit::Opened opened) {
        opened.treated = treated;
        opened.numbering = numbering;
        return store_->open_visit(stamp, opened);
    });
}

VisitId VisitDesk::open_following(VisitId earlier) {
    return open_by([&](const visit::Stamp& stamp, const visit::Opened& usual) {
        visit::Opened opened = store_->load(earlier).opened.content;
        opened.worker = usual.worker.empty() ? opened.worker : usual.worker;
        return store_->open_following(earlier, {stamp.at, opened.worker.empty() ? stamp.by : opened.worker}, opened);
    });
}

void VisitDesk::discard(VisitId id) {
    write(id, [&](const Visit& visit) {
        if (const auto begun = begun_.find(id); begun != begun_.end()) {
            begun_.erase(begun);
        }
        store_->discard(id, stamp(&visit));
    });
}

void VisitDesk::set_defaults(visit::Defaults defaults) {
    const std::lock_guard lock(mutex_);
    defaults_ = std::move(defaults);
}

visit::LookName VisitDesk::last_look(const Visit& visit) const {
    visit::LookName last = visit.looks.empty() ? visit::LookName{} : visit.looks.back().name;
    if (const auto begun = begun_.find(visit.id); begun != begun_.end() && !begun->second.empty()) {
        last = std::max(last, *begun->second.rbegin());
    }
    // With the baseline of an earlier day, what is said today is said at the recheck.
    return last == visit::LookName{} && baseline_is_inherited(visit) ? visit::LookName{visit::LookKind::recheck, 1}
                                                                     : last;
}

void VisitDesk::begin_look(VisitId id, visit::LookKind kind) {
    write(id, [&](const Visit& visit) {
        if (visit.closed()) {
            throw InputError("This visit is signed. What comes later belongs into a new one.");
        }
        int number = 0;
        for (const visit::Look& look : visit.looks) {
            number = look.name.kind == kind ? std::max(number, look.name.number) : number;
        }
        // A look that was begun and holds nothing yet is the next one already.
        begun_[id].insert({kind, kind == visit::LookKind::before ? 1 : number + 1});
    });
}

void VisitDesk::forget_empty(VisitId id, const visit::LookName& name) {
    {
        const std::lock_guard lock(mutex_);
        const auto begun = begun_.find(id);
        if (begun == begun_.end() || begun->second.erase(name) == 0) {
            return;
        }
    }
    changed_(id);
}

void VisitDesk::set_chart(VisitId id, const visit::LookName& name, std::optional<visit::Body> chart, bool is_holds) {
    write(id, [&](const Visit& visit) {
        const visit::Look* const look = visit.look(name);
        std::optional<int> there;
        if (look != nullptr && is_holds && look->holds) {
            there = look->holds->entry;
        } else if (look != nullptr && !is_holds && look->marks) {
            there = look->marks->entry;
        }
        if (!chart && !there) {
            return;
        }
        visit::NewEntry entry{.stamp = stamp(&visit),
                              .look = name,
                              .correction = {},
                              .body = chart ? *chart : visit::Body(visit::Withdrawn{})};
        if (there) {
            entry.correction =
                visit::Correction{*there, chart ? "charted again on the page" : "chart emptied on the page"};
        }
        store_->add(id, entry);
    });
}

void VisitDesk::set_holds(VisitId id, const visit::LookName& look, const std::string& text) {
    std::optional<visit::Body> chart;
    if (!text.empty()) {
        chart = visit::HoldsCharted{chart::read_holds(text, chart::Numbering::iso)};
    }
    set_chart(id, look, std::move(chart), true);
}

void VisitDesk::set_marks(VisitId id, const visit::LookName& look, const std::string& text) {
    std::optional<visit::Body> chart;
    if (!text.empty()) {
        chart = visit::MarksCharted{chart::read_marks(text, chart::Numbering::iso)};
    }
    set_chart(id, look, std::move(chart), false);
}

void VisitDesk::set_details(VisitId id, const Details& details) {
    write(id, [&](const Visit& visit) {
        visit::Opened opened = visit.opened.content;
        opened.label = details.label.value_or(opened.label);
        opened.worker = details.clinician.value_or(opened.worker);
        opened.procedure = details.procedure.value_or(opened.procedure);
        opened.supervisor = details.supervisor.value_or(opened.supervisor);
        opened.numbering = details.numbering.value_or(opened.numbering);
        opened.treated = details.teeth.value_or(opened.treated);
        if (opened.label.empty() || opened.treated.empty()) {
            throw InputError("A visit needs a chart label and at least one tooth that is treated.");
        }
        const visit::Fields now = visit::fields_of(opened);
        if (now.all() == visit::fields_of(visit.opened.content).all()) {
            return;
        }
        store_->add(id, {.stamp = stamp(&visit),
                         .look = {},
                         .correction = visit::Correction{visit.opened.entry, "details given on the page"},
                         .body = opened});
    });
}

void VisitDesk::set_crossbite(VisitId id, const std::string& text) {
    write(id, [&](const Visit& visit) {
        store_->add(id, {.stamp = stamp(&visit),
                         .look = {},
                         .correction = {},
                         .body = visit::CrossbiteSaid{chart::read_crossbite(text, chart::Numbering::iso)}});
    });
}

void VisitDesk::warn(VisitId id, chart::Warning warning) {
    if (warning.about.empty()) {
        throw InputError("Say what was seen.");
    }
    write(id, [&](const Visit& visit) {
        for (const auto& noted : visit.warnings) {
            const chart::Warning& said = noted.content.warning;
            if (said.about == warning.about) {
                warning.raised_with = warning.raised_with.empty() ? said.raised_with : warning.raised_with;
                warning.decided = warning.decided.empty() ? said.decided : warning.decided;
            }
        }
        store_->add(id, {.stamp = stamp(&visit), .look = {}, .correction = {}, .body = visit::WarningNoted{warning}});
    });
}

void VisitDesk::set_patient(VisitId id, const PatientSays& says) {
    write(id, [&](const Visit& visit) {
        const visit::LookName name = last_look(visit);
        const visit::Look* const look = visit.look(name);
        visit::FeelNoted noted = look != nullptr && look->feel ? look->feel->content : visit::FeelNoted{};
        noted.numb = says.numb ? says.numb : noted.numb;
        noted.feel = says.feel.value_or(noted.feel);
        std::optional<visit::Correction> correction;
        if (look != nullptr && look->feel) {
            correction = visit::Correction{look->feel->entry, "said again on the page"};
        }
        store_->add(id, {.stamp = stamp(&visit), .look = name, .correction = correction, .body = noted});
    });
}

void VisitDesk::decide(VisitId id, visit::Action action, const std::string& words) {
    write(id, [&](const Visit& visit) {
        store_->add(id, {.stamp = stamp(&visit),
                         .look = last_look(visit),
                         .correction = {},
                         .body = visit::Decided{action, words}});
    });
}

void VisitDesk::undo(VisitId id) {
    write(id, [&](const Visit& visit) {
        auto step = undo_of(visit);
        if (!step) {
            throw InputError("There is nothing to take back.");
        }
        step->entry.stamp = stamp(&visit);
        if (step->take_again) {
            const auto& kept = std::get<visit::TakeKept>(step->entry.body);
            const int entry =
                store_->add_take(id, *step->entry.look, step->entry.stamp, kept, store_->take(id, *step->take_again));
            shelf_.put(id, entry, shelf_.analysis(id, *step->take_again, kept.name));
        } else {
            store_->add(id, step->entry);
        }
        settle_comparisons(id);
    });
}

void VisitDesk::sign(VisitId id, const std::string& name, const std::string& role, const std::string& comment) {
    if (name.empty()) {
        throw InputError("Whoever signs gives a name or a staff label.");
    }
    write(id, [&](const Visit& visit) {
        visit::Stamp by = stamp(&visit);
        by.by = name;
        store_->add(id, {.stamp = by, .look = {}, .correction = {}, .body = visit::Signed{role, comment}});
    });
}

void VisitDesk::with_store(const std::function<void(visit::VisitStore&)>& use) {
    const std::lock_guard lock(mutex_);
    use(*store_);
}

} // namespace retap::chairside
