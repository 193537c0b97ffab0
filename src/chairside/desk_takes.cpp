// The takes of the visits that the page works on.
#include "audio/capture_note.hpp"
#include "audio/sound_file.hpp"
#include "chairside/visit_desk.hpp"
#include "error.hpp"
#include "visit/sha256.hpp"
#include "visit/take_sounds.hpp"

#include <algorithm>
#include <utility>
#include <variant>

namespace retap::chairside {

using visit::Visit;
using visit::VisitId;

namespace {

/// What tells takes apart however often they are finished; empty for sound that was not recorded here.
std::string take_id_of(const std::vector<std::byte>& flac) {
    const auto note = audio::read_note(audio::SoundReader(flac, "the take").comment());
    return note ? note->take_id : std::string();
}

} // namespace

bool VisitDesk::open_for_takes(VisitId id) {
    const std::lock_guard lock(mutex_);
    return !store_->load(id).closed();
}

int VisitDesk::keep_take(VisitId id, const visit::LookName& look, NewTake take) {
    int entry = 0;
    write(id, [&](const Visit& visit) {
        if (const auto where = visit::kept_already(visit, take.flac)) {
            throw InputError(*where + " Record again, or choose another file.");
        }
        dsp::TakeAnalysis analysis =
            take.analysis ? std::move(*take.analysis) : TakeShelf::analyse(take.flac, take.name);
        analysis.file = take.name;
        visit::TakeKept kept;
        kept.name = take.name;
        kept.program = RETAP_PROGRAM;
        entry = store_->add_take(id, look, stamp(&visit), kept,
                                 {.flac = std::move(take.flac),
                                  .analysis = report::json_text(report::take_json(analysis)),
                                  .settings = report::json_text(report::settings_json(analysis))});
        shelf_.put(id, entry, std::make_shared<const dsp::TakeAnalysis>(std::move(analysis)));
        settle_comparisons(id);
    });
    return entry;
}

bool VisitDesk::has_take(VisitId id, const std::vector<std::byte>& flac) {
    const std::lock_guard lock(mutex_);
    const std::string digest = visit::sha256(flac);
    const std::string take_id = take_id_of(flac);
    const Visit visit = store_->load(id);
    return std::any_of(visit.entries.begin(), visit.entries.end(), [&](const visit::Entry& entry) {
        const auto* const kept = std::get_if<visit::TakeKept>(&entry.body);
        return kept != nullptr && (kept->sound_sha256 == digest ||
                                   (!take_id.empty() && take_id_of(store_->take(id, entry.number).flac) == take_id));
    });
}

/// Writes down how each look compares that has takes and no comparison of them as they stand.
void VisitDesk::settle_comparisons(VisitId id) {
    const Visit visit = store_->load(id);
    const visit::Look* const baseline = visit.baseline();
    if (baseline == nullptr || baseline->takes.empty()) {
        return;
    }
    for (const visit::Look& look : visit.looks) {
        if (look.name.kind == visit::LookKind::before || look.takes.empty() || look.comparison) {
            continue;
        }
        const SharedComparison found = shelf_.comparison(visit, look);
        store_->add(id, {.stamp = stamp(&visit),
                         .look = look.name,
                         .correction = {},
                         .body = visit::to_keep(*found, visit, look, RETAP_PROGRAM)});
    }
}

void VisitDesk::take_back(VisitId id, int entry) {
    write(id, [&](const Visit& visit) {
        const auto found = std::find_if(visit.entries.begin(), visit.entries.end(),
                                        [entry](const visit::Entry& one) { return one.number == entry; });
        if (found == visit.entries.end()) {
            throw InputError("There is no such take in this visit.");
        }
        store_->add(id, {.stamp = stamp(&visit),
                         .look = found->look,
                         .correction = visit::Correction{entry, "take withdrawn on the page"},
                         .body = visit::Withdrawn{}});
        settle_comparisons(id);
    });
}

SharedComparison VisitDesk::comparison(VisitId id, const visit::LookName& name) {
    const std::lock_guard lock(mutex_);
    const Visit visit = store_->load(id);
    const visit::Look* const look = visit.look(name);
    const visit::Look* const before = visit.baseline();
    if (look == nullptr || look->takes.empty() || before == nullptr || before->takes.empty() || look == before) {
        throw InputError("A comparison needs a take before and a take after.");
    }
    return shelf_.comparison(visit, *look);
}

SharedAnalysis VisitDesk::analysis(VisitId id, int entry) {
    const std::lock_guard lock(mutex_);
    const Visit visit = store_->load(id);
    for (const visit::Look& look : visit.looks) {
        for (const auto& take : look.takes) {
            if (take.entry == entry) {
                return shelf_.analysis(id, entry, take.content.name);
            }
        }
    }
    throw InputError("There is no such take in this visit.");
}

int VisitDesk::shown_take(VisitId id, const visit::LookName& name) {
    const std::lock_guard lock(mutex_);
    const Visit visit = store_->load(id);
    const visit::Look* const look = visit.look(name);
    if (look == nullptr || look->takes.empty()) {
        return 0;
    }
    return visit::shown_take(
        *look, [&](const auto& take) { return shelf_.analysis(id, take.entry, take.content.name)->fitness.usable; });
}

visit::TakeContent VisitDesk::take_content(VisitId id, int entry) {
    const std::lock_guard lock(mutex_);
    return store_->take(id, entry);
}

} // namespace retap::chairside
