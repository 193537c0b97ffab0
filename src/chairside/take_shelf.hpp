// Takes of the store, analysed once and kept at hand.
#pragma once

#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"
#include "visit/store.hpp"

#include <cstddef>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace retap::chairside {

/// What was found in a take, by all who look at it: stays for as long as anybody holds it.
using SharedAnalysis = std::shared_ptr<const dsp::TakeAnalysis>;
using SharedComparison = std::shared_ptr<const compare::Comparison>;

/// Analyses the sound itself anew rather than reading the stored analysis, which leaves out the samples that plots and
/// comparison need; the program that shows them is then also the one that measured them. Not for several threads.
class TakeShelf {
public:
    explicit TakeShelf(visit::VisitStore& store) : store_(store) {}

    /// Throws StoreError, and InputError when the stored sound cannot be read.
    [[nodiscard]] SharedAnalysis analysis(visit::VisitId visit, int entry, const std::string& name);
    /// Puts there what was found in a take before it went into the store.
    void put(visit::VisitId visit, int entry, SharedAnalysis analysis);
    /// Of a sound that is not in the store yet.
    [[nodiscard]] static dsp::TakeAnalysis analyse(const std::vector<std::byte>& flac, const std::string& name);
    /// The takes of this look against the baseline's, by visit::compare_fit. Both must have takes (asserted).
    [[nodiscard]] SharedComparison comparison(const visit::Visit& visit, const visit::Look& look);

private:
    struct Compared {
        visit::VisitId visit;
        std::vector<int> before;
        std::vector<int> now;
        SharedComparison comparison;
    };
    SharedAnalysis shelve(std::pair<visit::VisitId, int> key, SharedAnalysis analysis);
    [[nodiscard]] std::vector<dsp::TakeAnalysis> analyses(visit::VisitId visit, const visit::Look& look);

    visit::VisitStore& store_;
    std::map<std::pair<visit::VisitId, int>, SharedAnalysis> analyses_;
    std::vector<Compared> compared_; ///< the newest last, a few only
};

} // namespace retap::chairside
