#include "chairside/take_shelf.hpp"

#include "audio/inspect_file.hpp"
#include "audio/sound_file.hpp"
#include "visit/take_sounds.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace retap::chairside {

namespace {

constexpr std::size_t max_analyses = 64;
constexpr std::size_t max_comparisons = 8;

} // namespace

SharedAnalysis TakeShelf::analysis(visit::VisitId visit, int entry, const std::string& name) {
    const std::pair key{visit, entry};
    if (const auto found = analyses_.find(key); found != analyses_.end()) {
        return found->second;
    }
    return shelve(key, std::make_shared<const dsp::TakeAnalysis>(analyse(store_.take(visit, entry).flac, name)));
}

void TakeShelf::put(visit::VisitId visit, int entry, SharedAnalysis analysis) {
    shelve({visit, entry}, std::move(analysis));
}

SharedAnalysis TakeShelf::shelve(std::pair<visit::VisitId, int> key, SharedAnalysis analysis) {
    if (analyses_.size() >= max_analyses) {
        analyses_.clear();
    }
    return analyses_.insert_or_assign(key, std::move(analysis)).first->second;
}

dsp::TakeAnalysis TakeShelf::analyse(const std::vector<std::byte>& flac, const std::string& name) {
    return audio::inspect_sound(audio::read_sound(flac, name), name);
}

/// Copies, as a comparison takes them: their sound is shared.
std::vector<dsp::TakeAnalysis> TakeShelf::analyses(visit::VisitId visit, const visit::Look& look) {
    std::vector<dsp::TakeAnalysis> takes;
    takes.reserve(look.takes.size());
    for (const auto& take : look.takes) {
        takes.push_back(*analysis(visit, take.entry, take.content.name));
    }
    return takes;
}

SharedComparison TakeShelf::comparison(const visit::Visit& visit, const visit::Look& look) {
    const visit::Look* const baseline = visit.baseline();
    assert(baseline != nullptr && !baseline->takes.empty() && !look.takes.empty());
    const std::vector<int> before = baseline->take_entries();
    const std::vector<int> now = look.take_entries();
    const auto found = std::find_if(compared_.begin(), compared_.end(), [&](const Compared& done) {
        return done.visit == visit.id && done.before == before && done.now == now;
    });
    if (found != compared_.end()) {
        return found->comparison;
    }
    auto takes_before = analyses(visit.id, *baseline);
    auto takes_now = analyses(visit.id, look);
    if (compared_.size() >= max_comparisons) {
        compared_.erase(compared_.begin());
    }
    compared_.push_back({visit.id, before, now,
                         std::make_shared<const compare::Comparison>(
                             visit::compare_fit(std::move(takes_before), std::move(takes_now)))});
    return compared_.back().comparison;
}

} // namespace retap::chairside
