#include "lesson/listening_test.hpp"

#include "compare/roc.hpp"

#include <cassert>
#include <cmath>

namespace retap::lesson {

OddOneTest::OddOneTest(const TrialSettings& settings, int down_after, std::uint64_t seed)
    : settings_(settings), down_after_(down_after), seed_(seed),
      stairs_(compare::StaircaseSettings{.down_after = down_after}) {
    next();
}

void OddOneTest::next() {
    trial_ = std::make_shared<const Trial>(odd_one_trial(stairs_.level(), settings_, seed_, number()));
    retap_.push_back(std::async(std::launch::async, [trial = trial_] { return ask_retap(*trial); }));
}

const Trial& OddOneTest::trial() const {
    assert(!finished());
    return *trial_;
}

void OddOneTest::answer(std::size_t picked) {
    assert(!finished());
    stairs_.answer(picked == *trial_->odd);
    if (!finished()) {
        next();
    }
}

compare::ThresholdModel OddOneTest::model() const {
    return {.target = std::pow(0.5, 1.0 / down_after_)};
}

OddOneResult OddOneTest::result() {
    assert(finished());
    OddOneResult result{.stairs = stairs_, .threshold = compare::fit_threshold(stairs_.trials(), model())};
    for (std::size_t i = 0; i < retap_.size(); ++i) {
        result.retap.push_back({.level = stairs_.trials()[i].level, .right = retap_[i].get().right});
    }
    result.retap_threshold = compare::fit_threshold(result.retap, model());
    return result;
}

PairsTest::PairsTest(const TrialSettings& settings, double height_um, std::size_t pairs, std::uint64_t seed)
    : settings_(settings), height_um_(height_um), pairs_(pairs), seed_(seed) {
    next();
}

void PairsTest::next() {
    if (finished()) {
        return;
    }
    trial_ = std::make_shared<const Trial>(same_or_different_trial(height_um_, settings_, seed_, number_));
    differed_.push_back(trial_->odd.has_value());
    retap_.push_back(std::async(std::launch::async, [trial = trial_] { return ask_retap(*trial); }));
}

const Trial& PairsTest::trial() const {
    assert(!finished());
    return *trial_;
}

void PairsTest::answer(bool says_different) {
    assert(!finished());
    count_answer(learner_, differed_.back(), says_different);
    ++number_;
    next();
}

PairsResult PairsTest::result() {
    assert(finished());
    PairsResult result{.learner = learner_};
    std::vector<double> same;
    std::vector<double> different;
    for (std::size_t i = 0; i < retap_.size(); ++i) {
        const RetapAnswer answer = retap_[i].get();
        count_answer(result.retap, differed_[i], answer.says_different);
        (differed_[i] ? different : same).push_back(answer.likeness);
    }
    constexpr double confidence = 0.95;
    result.sensitivity = compare::same_different_sensitivity(result.learner, confidence);
    result.retap_area = compare::roc_area(different, same).area; // unchanged pairs should score higher
    return result;
}

} // namespace retap::lesson
