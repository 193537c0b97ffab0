// A listening test under way: which sounds come next, and what came of the answers. Who asks and who plays is the
// caller's: a terminal, a script or a page.
#pragma once

#include "compare/listening_staircase.hpp"
#include "lesson/result_text.hpp"
#include "lesson/trials.hpp"

#include <cstddef>
#include <cstdint>
#include <future>
#include <memory>
#include <vector>

namespace retap::lesson {

/// Which of three sounds is odd, closing in on the height that the learner just hears. Retap answers the same trials
/// meanwhile, in a thread of its own.
class OddOneTest {
public:
    /// `down_after` right answers in a row make it harder: 2 or 3.
    OddOneTest(const TrialSettings& settings, int down_after, std::uint64_t seed);

    [[nodiscard]] bool finished() const { return stairs_.finished(); }
    /// From 0; the number of answers so far.
    [[nodiscard]] std::size_t number() const { return stairs_.trials().size(); }
    /// The sounds to judge now. Not after the end (asserted).
    [[nodiscard]] const Trial& trial() const;
    /// `picked` is the index of the sound that is said to be odd. Not after the end (asserted).
    void answer(std::size_t picked);
    /// After the end only (asserted); waits for Retap's last answers. Call once.
    [[nodiscard]] OddOneResult result();
    /// What a fit to the answers of this test assumes.
    [[nodiscard]] compare::ThresholdModel model() const;

private:
    void next();

    TrialSettings settings_;
    int down_after_;
    std::uint64_t seed_;
    compare::Staircase stairs_;
    std::shared_ptr<const Trial> trial_;
    std::vector<std::future<RetapAnswer>> retap_;
};

/// Same or different, at one height.
class PairsTest {
public:
    PairsTest(const TrialSettings& settings, double height_um, std::size_t pairs, std::uint64_t seed);

    [[nodiscard]] bool finished() const { return number_ == pairs_; }
    [[nodiscard]] std::size_t number() const { return number_; }
    [[nodiscard]] std::size_t pairs() const { return pairs_; }
    /// As those of OddOneTest.
    [[nodiscard]] const Trial& trial() const;
    void answer(bool says_different);
    [[nodiscard]] PairsResult result();

private:
    void next();

    TrialSettings settings_;
    double height_um_;
    std::size_t pairs_;
    std::uint64_t seed_;
    std::size_t number_ = 0;
    compare::SameDifferentCounts learner_;
    std::shared_ptr<const Trial> trial_;
    std::vector<bool> differed_;
    std::vector<std::future<RetapAnswer>> retap_;
};

} // namespace retap::lesson
