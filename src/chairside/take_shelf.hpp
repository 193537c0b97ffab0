// Takes of the store, analysed once and kept at hand.
#pragma once

#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"
#include "visit/store.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace retap::chairside {

/// Analyses the sound itself anew rather than reading the stored analysis, which leaves out the samples that plots and
/// comparison need; the program that shows them is then also the one that measured them. Not for several threads.
class TakeShelf {
public:
    explicit TakeShelf(visit::VisitStore& store) : store_(store) {}

    /// Throws StoreError, and InputError when the stored sound cannot be read.
    [[nodiscard]] const dsp::TakeAnalysis& analysis(visit::VisitId visit, int entry, const std::string& name);
    /// Puts there what was found in a take before it went into the store.
    void put(visit::VisitId visit, int entry, dsp::TakeAnalysis analysis);
    /// Of a sound that is not in the store yet.
    [[nodiscard]] static dsp::TakeAnalysis analyse(const std::vector<std::byte>& flac, const std::string& name);
    /// The takes of this look against the baseline's, by visit::compare_fit. Both must have takes (asserted).
    [[nodiscard]] const compare::Comparison& comparison(const visit::Visit& visit, const visit::Look& look);

private:
    struct Compared {
        visit::VisitId visit;
        std::vector<int> before;
        std::vector<int> now;
        compare::Comparison comparison;
    };
    const dsp::TakeAnalysis& shelve(std::pair<visit::VisitId, int> key, dsp::TakeAnalysis analysis);
    [[nodiscard]] std::vector<dsp::TakeAnalysis> analyses(visit::VisitId visit, const visit::Look& look);

    visit::VisitStore& store_;
    std::map<std::pair<visit::VisitId, int>, dsp::TakeAnalysis> analyses_;
    std::vector<Compared> compared_; ///< the newest last, a few only
};

} // namespace retap::chairside
